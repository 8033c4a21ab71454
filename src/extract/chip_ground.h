// SPDX-License-Identifier: MIT
#pragma once

#include <array>
#include <cstddef>
#include <optional>
#include <vector>

#include "colour/lab.h"
#include "colour/light_rows.h"

namespace kithue::extract {

/// A picture averaged in light over squares of `step` pixels.
struct SmallLab {
  int width = 0;
  int height = 0;
  int step = 1;
  std::vector<Lab> lab;
  [[nodiscard]] std::size_t index(int x, int y) const {
    return static_cast<std::size_t>(y) * static_cast<std::size_t>(width) + static_cast<std::size_t>(x);
  }
  [[nodiscard]] const Lab& at(int x, int y) const { return lab[index(x, y)]; }
};

/// `most_side`: no side of the small picture is longer. REQUIRES: most_side >= 1.
SmallLab shrunk(const LightRows& picture, int most_side);

/// Every pixel with its neighbours on all sides, averaged: noise goes down to a third.
void smooth(SmallLab& picture);

/// Straight distance in CIELAB: for telling colours apart, not for judging them.
double plain_distance(const Lab& x, const Lab& y) noexcept;

/// The mean of the colours around the most frequent one, of those that `places` point at.
/// REQUIRES: places is not empty.
Lab most_frequent(const SmallLab& picture, const std::vector<std::size_t>& places);

/// The colour of a plain background as it changes over the frame with the light: a surface of second degree
/// in each of L, a, b.
struct Ground {
  std::array<std::array<double, 6>, 3> terms{};  ///< of 1, u, v, u^2, u v, v^2 for L, a, b
  double noise = 0.0;                            ///< how far one small pixel lies from it, as a rule
  double share = 0.0;                            ///< part of the frame that it covers, 0-1
  /// u, v: 0 to 1 across and down.
  [[nodiscard]] Lab at(double u, double v) const noexcept;
};

/// Nothing when no smooth surface covers a tenth of the frame.
std::optional<Ground> fit_ground(const SmallLab& picture);

}  // namespace kithue::extract
