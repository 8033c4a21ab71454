// SPDX-License-Identifier: MIT
#pragma once

#include <array>
#include <span>
#include <vector>

#include "extract/cut.h"

namespace kithue::extract {

/// How the picture was smeared.
struct Smear {
  double sharp = 0.7;         ///< standard deviation in pixels of lens, pixel area and all that acts on light
  double trust_chroma = 0.5;  ///< weight of the colour-difference signals against brightness
  double chroma2 =
      1.0;  ///< extra variance, in pixels squared, of the colour-difference signals (JPEG 4:2:0: 1)
};

/// The model of one cut: bands of plain colours side by side, smeared in light, coded, the colour differences
/// smeared again.
class Band {
 public:
  Band(const Cut& cut, const Smear& smear);
  /// What the model gives at the places of the cut. `lights` from left to right, `edges` between them,
  /// rising. REQUIRES: lights.size() == edges.size() + 1.
  void values(std::span<const Light> lights, std::span<const double> edges, std::vector<Coded>& out);
  /// The same for one line between the cut's two sides, and what each value grows by for a little more of the
  /// line's three lights, of `middle` and of `width`.
  void slopes(const Light& line, double middle, double width, std::vector<Coded>& out,
              std::array<std::vector<Coded>, 5>& slope);
  [[nodiscard]] double trust_chroma() const { return trust_chroma_; }

 private:
  static constexpr double kStep = 0.5;  // pixels between the places of the smeared colour differences
  [[nodiscard]] Coded sharp_at(double s, std::span<const Light> lights, std::span<const double> edges) const;

  /// Value and five slopes at one place, before the colour differences are smeared.
  using Place = std::array<Coded, 6>;
  [[nodiscard]] Place slopes_at(double s, const Light& line, double middle, double width) const;

  const Cut& cut_;
  double sharp_;
  double trust_chroma_;
  int first_ = 0;
  std::vector<Coded> grid_;
  std::vector<Coded> soft_;
  std::vector<std::array<double, 12>> wide_grid_;  // the two differences of each value and slope
  std::vector<std::array<double, 12>> wide_soft_;
  std::vector<double> kernel_;
};

}  // namespace kithue::extract
