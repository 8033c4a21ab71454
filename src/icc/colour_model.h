// SPDX-License-Identifier: MIT
#pragma once

#include <array>
#include <memory>
#include <string>
#include <vector>

#include "colour/matrix.h"
#include "icc/light_grid.h"

namespace kithue {

/// How coded numbers become light: a curve a channel and a matrix, or, for profiles that are tables, a grid.
struct ColourModel {
  std::string name;  ///< for people; text from the file is cleaned UTF-8
  /// Coded value to light, one curve (grey) or three (RGB), each of 256 or 65536 entries. Empty with a grid.
  std::array<std::vector<float>, 3> curve;
  std::shared_ptr<const LightGrid> grid;  ///< null unless the profile is a table
  Matrix3 to_xyz;                         ///< light to XYZ under D50, 1,1,1 being the white
};

/// sRGB for 8 or 16 bits a channel, grey or RGB alike. Source: IEC 61966-2-1.
ColourModel srgb_model(int bits);

}  // namespace kithue
