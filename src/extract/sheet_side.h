// SPDX-License-Identifier: MIT
#pragma once

#include <vector>

#include "extract/surround.h"

namespace kithue::extract {

/// Where the surround ends, going in from one side of the frame. Along the side is `t`, into the frame is
/// `d`: for the left and the right side t is the row, for the top and the bottom the column.
struct SideEnds {
  std::vector<double> strict;  ///< d at each t; below 0: nothing else was met
  std::vector<double> shadow;  ///< the same with shadow beside the sheet counted as surround
};
SideEnds ends_of(const Surround& surround, const SmallPicture& small, Side side);

/// d = at + slope * t, in places of the small picture.
struct SideLine {
  double at = 0.0;
  double slope = 0.0;
  bool found = false;
  [[nodiscard]] double d(double t) const noexcept { return at + slope * t; }
};

/// The line that most of the ends lie on, within 0.9 of a place; at most 15 degrees off the frame.
SideLine line_of(const std::vector<double>& ends);

/// How much of a line is seen between t = from and t = to, cut to the frame.
struct Seen {
  double near = 0.0;  ///< 0-1: ends within 1.2 places of the line; also where something that lies beside the
                      ///< sheet hides the end, but the surround shows again before the line and ends on it
  double before = 0.0;  ///< 0-1: ends that lie more than that before it, where something else is in the way
};
Seen seen_of(const SideLine& line, const std::vector<double>& ends, double from, double to,
             const Surround& surround, const SmallPicture& small, Side side);

}  // namespace kithue::extract
