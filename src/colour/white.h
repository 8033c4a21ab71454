// SPDX-License-Identifier: MIT
#pragma once

#include <optional>
#include <span>
#include <string_view>

#include "colour/lab.h"

namespace kithue {

/// A named illuminant with its observer.
struct White {
  std::string_view name;  ///< "D65/10": illuminant, slash, observer in degrees
  Xyz xyz;                ///< Y = 1
};

/// The whites of ASTM E308 (Tables 5 and 6) that a reading may name, except that D50/2 is the one white
/// of the program (kD50, which differs from E308's in the fourth digit).
std::span<const White> known_whites();

/// "D50/2", "d65/10", "D65/10°", "A/2", "D50" with a space or dash for the slash; the observer must be
/// given. Nothing when the name is not known.
std::optional<White> find_white(std::string_view name);

}  // namespace kithue
