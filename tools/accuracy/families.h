// SPDX-License-Identifier: MIT
#pragma once

#include <cstdint>
#include <span>
#include <string_view>

#include "paper/face.h"

namespace kithue::accuracy {

/// A way of drawing faces. `pixel` is the size of a camera pixel on the face, so that strokes can be drawn
/// a few pixels wide; the face is 1 wide.
struct Family {
  std::string_view name;
  bool held_out;  ///< never looked at while tuning
  paper::Face (*draw)(paper::Dice& dice, double pixel);
};
std::span<const Family> families();

}  // namespace kithue::accuracy
