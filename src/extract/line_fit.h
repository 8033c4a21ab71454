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

/// How much worse a cut fits when its line is said to have this light, in units of the variance of its
/// values. A step along `loose` costs no more than 1 for each time its length.
double worse_by(const CutColour& own, const Light& light, const Light& loose, double variance) noexcept;

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
