// SPDX-License-Identifier: MIT
#pragma once

#include <vector>

#include "extract/looks.h"

namespace kithue::extract {

/// True when most of the looks lie on small round things, not on lines: brightness changes in all directions.
bool are_dots(const std::vector<const Look*>& looks);

/// The part of its contrast that a cut through the middle of a dot shows when it is fitted as a line of this
/// `width` under this smear (`sharp`), both in pixels: 1 for a large dot, less where light comes in from
/// before and behind as well.
double part_of_dot(double width, double sharp) noexcept;

/// The colour of dots on `ground` that were fitted as a line. `sure`: edges told the smear; else the dots
/// did, and a wider smear makes up for a part of what is missing.
Light light_of_dot(const LineColour& line, const Light& ground, const Smear& smear, bool sure);

}  // namespace kithue::extract
