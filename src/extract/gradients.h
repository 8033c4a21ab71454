// SPDX-License-Identifier: MIT
#pragma once

#include <algorithm>
#include <cmath>

namespace kithue::extract {

/// Sums of products of the changes along x and y in a window (its structure tensor): in which direction it
/// changes most, and how much more than in the others.
struct Gradients {
  double xx = 0.0;
  double yy = 0.0;
  double xy = 0.0;
  void add(double gx, double gy, double weight = 1.0) noexcept {
    xx += weight * gx * gx;
    yy += weight * gy * gy;
    xy += weight * gx * gy;
  }
  /// Radians from the x axis.
  [[nodiscard]] double angle() const noexcept { return 0.5 * std::atan2(2.0 * xy, xx - yy); }
  /// 1: all changes are in that direction; 0: as much in all.
  [[nodiscard]] double one_way() const noexcept {
    return std::hypot(xx - yy, 2.0 * xy) / std::max(1e-12, xx + yy);
  }
};

}  // namespace kithue::extract
