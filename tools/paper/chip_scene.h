// SPDX-License-Identifier: MIT
#pragma once

#include <array>
#include <cstdint>
#include <vector>

#include "paper/camera.h"

namespace kithue::paper {

/// A chip as it is drawn: where, how turned, and the light it gives back.
struct DrawnChip {
  double x = 0.0;  ///< of its middle
  double y = 0.0;
  double half_width = 30.0;
  double half_height = 30.0;
  bool round = false;
  double turned = 0.0;  ///< degrees
  std::array<double, 3> light{};
  [[nodiscard]] bool holds(double px, double py) const;
};

/// Chips on a plain ground, photographed.
struct ChipScene {
  int width = 900;
  int height = 600;
  std::array<double, 3> ground{0.75, 0.75, 0.72};
  std::vector<DrawnChip> chips;
  double noise = 0.0;       ///< standard deviation of one pixel, as a part of white
  double grain = 0.0;       ///< of paper and chips alike, as a part of their light, 3 pixels wide
  double fall_right = 0.0;  ///< +0.1: 10 % more light at the right edge, 10 % less at the left
  double fall_corner = 0.0;
  double shadow = 0.0;  ///< part of the light that is missing at a chip's right and lower foot
  int table = 0;        ///< width of a dark table that shows around the ground
  std::uint32_t seed = 1;

  /// The picture in sRGB, 8 bits. Deterministic for a seed.
  [[nodiscard]] Shot shot() const;
};

}  // namespace kithue::paper
