// SPDX-License-Identifier: MIT
#pragma once

#include <array>
#include <vector>

#include "base/executor.h"
#include "extract/band.h"

namespace kithue::extract {

/// The colour that one cut shows by itself, and how surely.
struct CutColour {
  Light light{};
  std::array<std::array<double, 3>, 3> information{};  ///< how fast the cost grows around `light`
  double cost = 0.0;                                   ///< sum of squares that the model leaves
  double weight = 0.0;                                 ///< number of values behind it
  bool found = false;
};

/// Fits a band of one colour between the known colours, smeared in light, coded, its colour differences
/// smeared again. Leaves middle and width in the cut.
CutColour fit_cut(Cut& cut, const Smear& smear);

/// How much worse a cut fits when its line is said to have another light, in units of the variance of its
/// values. A step along `loose` costs no more than 1 for each time its length.
class Worsening {
 public:
  Worsening(const CutColour& own, const Light& loose, double variance) noexcept;
  [[nodiscard]] double by(const Light& light) const noexcept {
    double step = 0.0;
    double both = 0.0;
    for (std::size_t p = 0; p < 3; ++p) {
      const double d = light[p] - own_[p];
      double row = 0.0;
      for (std::size_t q = 0; q < 3; ++q) row += m_[p][q] * (light[q] - own_[q]);
      step += d * row;
      both += along_[p] * d;
    }
    // The best step along `loose` is taken out (least squares with a prior of variance 1 on its length).
    return step - both * both * by_free_;
  }

 private:
  Light own_;
  std::array<std::array<double, 3>, 3> m_{};
  Light along_{};
  double by_free_ = 1.0;
};

struct LineColour {
  Light light{};
  double width = 0.0;   ///< median width of the line in pixels
  double misfit = 0.0;  ///< root mean square of what the model leaves, Y' units
  double cost = 0.0;    ///< sum of squares that the model leaves, of the better three quarters of the cuts
};

/// The colour that all cuts share, fitted to all of them together. `start` is a first guess.
LineColour fit_together(const std::vector<Cut*>& cuts, const Smear& smear, const Light& start,
                        Executor& executor);

/// The `cost` of LineColour when the line is said to have this light. The cuts' own middles and widths are
/// where it starts from.
double cost_with(const std::vector<const Cut*>& cuts, const Smear& smear, const Light& light);

/// The middle one of some values, the upper one of two; 0 for none.
double median_of(std::vector<double> values);

}  // namespace kithue::extract
