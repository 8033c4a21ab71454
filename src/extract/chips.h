// SPDX-License-Identifier: MIT
#pragma once

#include <array>
#include <cstddef>
#include <vector>

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
};

/// Equal cells of a window, row after row. REQUIRES: columns, rows >= 1.
std::vector<ChipBox> grid_boxes(const ChipBox& window, int columns, int rows);

/// Chips that lie apart on a plain background: punched circles, rectangles. The background is the median of
/// the frame's edge. In reading order. A chip must be 1.5 % of the shorter side wide at least, fill over half
/// of its box and not touch the edge. Its box is shrunk so that a circle's fits inside the chip.
std::vector<ChipBox> find_chips(const LightRows& picture);

/// Reads the middle three fifths of a box; the brightest and the darkest tenth of the pixels are left out.
/// REQUIRES: the box lies inside the picture and is at least 1 x 1.
ChipLight chip_light(const LightRows& picture, const ChipBox& box);

}  // namespace kithue
