// SPDX-License-Identifier: MIT
#pragma once

#include <span>
#include <string_view>

#include "paper/face.h"

namespace kithue::accuracy {

/// A way of drawing faces. `pixel` is the size of a camera pixel on the face, so that strokes can be drawn
/// a few pixels wide; the face is 1 wide.
struct Family {
  std::string_view name;
  paper::Face (*draw)(paper::Dice& dice, double pixel);
};

std::span<const Family> tuning_families();    ///< looked at while the program was tuned
std::span<const Family> held_out_families();  ///< measured often, never looked at while tuning
std::span<const Family> wider_families();     ///< looked at while tuning: other kinds of drawing
std::span<const Family> last_families();      ///< measured late, then looked at as well
std::span<const Family> further_families();   ///< drawn when all others were known: what they did not show

}  // namespace kithue::accuracy
