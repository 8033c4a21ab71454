// SPDX-License-Identifier: MIT
#pragma once

#include <array>
#include <cstddef>
#include <vector>

#include "colour/light_rows.h"
#include "extract/coding.h"

namespace kithue::extract {

/// A place where a line of an unknown colour runs between two known ones (perhaps the same on both sides).
struct LinePlace {
  double x = 0.0;  ///< pixel, near the middle of the line
  double y = 0.0;
  Light left;  ///< the known colour on the side of lower x (or y, for a level line)
  Light right;
  bool across_x = true;  ///< the line is crossed by going along x, else along y
  double gain = 1.0;     ///< light here, as a part of the mean over the frame
};

/// How a colour difference at one place is mixed of those around it, before coding: JPEG keeps one for
/// several pixels.
struct Spread {
  static constexpr double kStep = 0.5;  ///< pixels between two taps
  static constexpr std::size_t kTaps = 16;
  int first = 0;  ///< where the first tap lies, in steps from where the cut's distances begin
  std::array<float, kTaps> taps{};
};

/// One cut through the line, coded as JPEG does: brightness and two colour differences at distances from the
/// middle.
struct Cut {
  std::vector<double> at;      ///< pixels across the line
  std::vector<Coded> value;    ///< Y', Cb', Cr' on the scale where white has Y' = 1
  std::vector<double> weight;  ///< pixels that were averaged
  std::vector<Spread> spread;  ///< of each place; none where every pixel has its own colour differences
  Light left{};
  Light right{};
  std::array<double, 2> across{};  ///< unit vector across the line, from left to right
  double gathered = 0.0;           ///< variance, in pixels, of the distances that were averaged at one place
  double one_way = 1.0;            ///< 1: brightness changes across the line only; 0: in all directions alike
  double middle = 0.0;
  double width = 2.0;
  bool usable = false;
};

/// A cut whose `one_way` is less lies on something round, or where lines meet.
inline constexpr double kRoundOneWay = 0.5;

/// Pixels to each side along a line that are averaged where it is not plain: at its end, in a dot.
inline constexpr double kRoundReach = 1.2;

/// Reads the pixels around a place, finds the direction of the line and averages along it, from `before`
/// pixels before the place to `after` pixels after it.
Cut cut_at(const LightRows& picture, const LinePlace& place, double before, double after);

}  // namespace kithue::extract
