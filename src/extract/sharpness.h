// SPDX-License-Identifier: MIT
#pragma once

#include <array>
#include <vector>

#include "base/executor.h"
#include "extract/band.h"
#include "extract/cut.h"

namespace kithue::extract {

inline constexpr double kShapeless = 0.8;   ///< pixels: the shape of a broader smear hardly matters
inline constexpr double kExcessStep = 0.8;  ///< of the excess kurtosis, in steps of which it is tried
/// The bottom of a parabola: how many steps it lies beyond the middle one of three places, and its value
/// there.
struct Bottom {
  double steps = 0.0;
  double value = 0.0;
};
/// Of the parabola through three values at equal steps, from one step before the middle to `most` beyond it.
/// Where it does not bend upwards, the middle itself.
Bottom bottom_of(double low, double middle, double high, double most = 1.0) noexcept;

/// The excess that costs least, from what 0, 1 and 2 steps of it cost; from 0 to 2.4.
double best_excess(const std::array<double, 3>& costs) noexcept;

/// How edges are smeared.
struct EdgeSmear {
  double sharp = -1.0;   ///< standard deviation in pixels; negative: too few can tell
  double excess = 0.0;   ///< excess kurtosis; 0 where it hardly matters
  bool on_grid = false;  ///< as in Smear
};
/// The smear to fit lines under.
inline Smear known_smear(const EdgeSmear& smear) noexcept {
  Smear out;
  out.sharp = smear.sharp;
  out.excess = smear.excess;
  out.on_grid = smear.on_grid;
  return out;
}

/// How much better one of two models fits some cuts than the other.
class Better {
 public:
  void add(double by) noexcept {
    ++count_;
    sum_ += by;
    squares_ += by * by;
  }
  /// The mean in its standard errors; 0 of less than six.
  [[nodiscard]] double errors() const noexcept;

 private:
  int count_ = 0;
  double sum_ = 0.0;
  double squares_ = 0.0;
};
/// True for a cut that shows whether the smear acted on the grid: across rows or columns.
bool shows_grid(const Cut& cut) noexcept;

/// The smear of edges as of a lens and as on the grid, and how much better the latter fits.
struct EdgeSmears {
  EdgeSmear lens;
  EdgeSmear grid;
  Better grid_better;
};

/// The smear of plain edges between two known colours, from many cuts: the median. A cut with something else
/// between the two does not fit and is left out. Smears from `least` pixels to eight times that are tried.
EdgeSmears edge_sharpness(const std::vector<Cut>& cuts, double least, Executor& executor);

/// The smear under which lines of unknown colour fit best.
double line_sharpness(std::vector<Cut> cuts, Executor& executor);

}  // namespace kithue::extract
