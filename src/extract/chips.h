// SPDX-License-Identifier: MIT
#pragma once

#include <array>

#include "colour/light_rows.h"

namespace kithue {

/// Where a chip lies, in pixels.
struct ChipBox {
  int x = 0;
  int y = 0;
  int width = 0;
  int height = 0;
};

/// What the middle of a chip shows.
struct ChipLight {
  std::array<double, 3> light{};  ///< trimmed mean, in the picture's own primaries
  double texture = 0.0;           ///< standard deviation of brightness, as a part of it, the trend taken out
  double gradient = 0.0;          ///< brightness from edge to edge, as a part of it
  double glare = 0.0;             ///< part of the pixels over 1.4 times the middle brightness
  double clipped = 0.0;           ///< part of the pixels with a channel at the top end
};

/// Reads the middle three fifths of a box; the brightest and the darkest tenth of the pixels are left out.
/// Of a large box an even sample is read. REQUIRES: the box lies inside the picture and is at least 1 x 1.
ChipLight chip_light(const LightRows& picture, const ChipBox& box);

}  // namespace kithue
