// SPDX-License-Identifier: MIT
#pragma once

#include <array>
#include <vector>

#include "colour/light_rows.h"
#include "colour/matrix.h"
#include "extract/chip_ground.h"
#include "extract/chips.h"

namespace kithue {

struct FoundChips {
  std::vector<ChipBox> chips;  ///< upright boxes, wholly inside the chips, in reading order: rows from the
                               ///< top, from the left within a row
  std::array<double, 3> background{};  ///< mean light of the background, in the picture's own primaries
  double uneven = 0.0;                 ///< brightness of the background, lightest less darkest, as a part;
                                       ///< 0 when it is too small or too dark to tell
  /// How bright the background is around a pixel, channel by channel, as a part of its mean over the frame:
  /// what light seen there is divided by to undo uneven light. 1 when the background cannot tell.
  [[nodiscard]] std::array<double, 3> light_at(double x, double y) const;

  extract::Ground ground;  ///< the background itself
  bool tells = false;      ///< it is large and bright enough to undo uneven light by
  int width = 1;           ///< of the picture
  int height = 1;
  Matrix3 from_xyz;  ///< XYZ to the picture's own primaries
};

/// Finds punched circles, rectangles and other full shapes, turned any way, on a background that is plain but
/// may be lit unevenly. The background is the smooth colour that covers most of the frame; what touches the
/// frame's edge is no chip, shadows and writing are not either. A chip is at least 1.5 % of the shorter side
/// wide, and differs from the background by more than its grain and more than 2 CIELAB units. Chips that
/// touch are told apart when their colours differ by 10 or more. Empty when there is no such background.
FoundChips find_chips(const LightRows& picture);

}  // namespace kithue
