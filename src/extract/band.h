// SPDX-License-Identifier: MIT
#pragma once

#include <array>
#include <cstddef>
#include <cstdint>
#include <span>
#include <vector>

#include "extract/band_work.h"
#include "extract/cut.h"

namespace kithue::extract {

/// The variance of the area of a pixel along its side, square pixels.
inline constexpr double kPixelVariance = 1.0 / 12.0;

/// How the picture was smeared.
struct Smear {
  double sharp = 0.7;         ///< standard deviation in pixels of lens, pixel area and all that acts on light
  double excess = 0.0;        ///< its excess kurtosis
  double trust_chroma = 0.5;  ///< weight of the colour-difference signals against brightness
  bool on_grid = false;  ///< the areas of pixels were averaged first and a kernel on whole pixels smeared
                         ///< them: along rows and columns an edge goes straight from pixel to pixel
};

/// Least squares around a guess: how the sum of squares bends and falls with N free numbers.
template <std::size_t N>
struct NormalEquations {
  std::array<std::array<double, N>, N> m{};
  std::array<double, N> v{};
  double cost = 0.0;    ///< the sum of squares, weighted
  double weight = 0.0;  ///< of the places, in pixels
};

/// The model of one cut: bands of plain colours side by side, smeared in light, coded, the colour differences
/// spread over the pixels that share them. In single precision.
class Band {
 public:
  Band(const Cut& cut, const Smear& smear);
  /// What the model gives at the places of the cut. `lights` from left to right, `edges` between them,
  /// rising. REQUIRES: lights.size() == edges.size() + 1, 1 to 4 edges.
  void values(std::span<const Light> lights, std::span<const double> edges, std::vector<Coded>& out);
  /// The same for one line between the cut's two sides, and what each value grows by for a little more of the
  /// line's three lights, of `middle` and of `width`.
  void slopes(const Light& line, double middle, double width, std::vector<Coded>& out,
              std::array<std::vector<Coded>, 5>& slope);
  /// How well one line fits; free are its three lights, its middle and its width.
  NormalEquations<5> line_equations(const Light& line, double middle, double width);
  /// How well N bands fit, 2 or 3; free are their lights, from left to right, then their edges.
  template <std::size_t N>
  NormalEquations<4 * N + 1> bands_equations(const std::array<Light, N>& lights,
                                             const std::array<double, N + 1>& edges);

 private:
  [[nodiscard]] BandModel model_of(int edges) const;
  [[nodiscard]] BandModel line_model(const Light& line, double middle, double width) const;
  void evaluate(const BandModel& model, bool with_slopes);
  template <std::size_t N>
  NormalEquations<N> equations(const BandModel& model);
  [[nodiscard]] Coded signal(std::size_t row, std::size_t place) const;

  std::size_t places_ = 0;
  std::size_t room_ = 0;    // places, rounded up to vectors
  std::size_t points_ = 0;  // places and, after them, the steps between which differences are found
  Light left_;
  Light right_;
  float by_sharp_;
  float excess_;
  float stepped_ = 0.0F;
  float by_nodes_ = 0.0F;
  double weight_sum_ = 0.0;
  std::vector<float> at_;
  std::vector<float> taps_;    // of the differences at each place
  std::vector<int> first_;     // the step of its first tap
  std::vector<float> target_;  // three signals of the cut, room_ apart
  std::vector<float> weight_;
  std::vector<float> rows_;
  std::vector<float> signals_;  // of the model, then of each slope, 3 * room_ apart
};

}  // namespace kithue::extract
