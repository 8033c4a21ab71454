// SPDX-License-Identifier: MIT
#pragma once

#include <vector>

#include "extract/looks.h"

namespace kithue::extract {

inline constexpr double kDashOneWay = 0.3;  ///< a Cut::one_way of dashes; discs have 0.02 to 0.09 in photos

/// How much more brightness changes across than along what the looks lie on, as Cut::one_way.
double one_way_of(const std::vector<const Look*>& looks);

/// True when most of the looks lie on small round things or short dashes, not on lines: brightness changes in
/// all directions.
bool are_dots(const std::vector<const Look*>& looks);

/// The part of its contrast that a cut through the middle of a dot shows when it is fitted as a line of this
/// `width` under this smear (`sharp`), both in pixels: 1 for a large dot, less where light comes in from
/// before and behind as well.
double part_of_dot(double width, double sharp) noexcept;

/// The same for a dash. A short bar of a length l has (l - width) / (l + width) for its `one_way`; what comes
/// near to 0 is a dot.
double part_of_dash(double width, double sharp, double one_way) noexcept;

/// Standard deviations in pixels.
struct DotSmear {
  double light = 0.7;
  double colour = 1.2;  ///< of the colour differences: coding smears them once more
};

/// The colour of dots or dashes on `ground` that were fitted as a line. `sure`: edges told the smear; else
/// the dots did, and a wider smear makes up for a part of what is missing.
Light light_of_dot(const LineColour& line, const Light& ground, const DotSmear& smear, bool sure,
                   double one_way);

}  // namespace kithue::extract
