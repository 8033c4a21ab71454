// SPDX-License-Identifier: MIT
#pragma once

#include <array>
#include <cstddef>
#include <cstdint>

#include "colour/lab.h"
#include "extract/flat.h"

namespace kithue::extract {

/// A colour that only lines, letters or dots a few pixels wide have.
struct ThinColour {
  Lab lab;
  double width = 0.0;              ///< pixels, typical
  double misfit = 0.0;             ///< root mean square of what the line model leaves, of white
  std::size_t cores = 0;           ///< cells that lie in the middle of such lines
  double cells = 0.0;              ///< cells that the lines fill, about
  std::uint8_t ground = kNoLabel;  ///< the known colour on both sides of most, if there is one
  /// The known colours on the two sides of most, the smaller number first, if there are such.
  std::array<std::uint8_t, 2> sides{kNoLabel, kNoLabel};
  bool pattern = false;  ///< no colour but the mean of many narrow lines, which a second look may tell apart
};

}  // namespace kithue::extract
