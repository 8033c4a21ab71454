// SPDX-License-Identifier: MIT
#pragma once

#include <array>
#include <vector>

#include "base/executor.h"
#include "colour/lab.h"
#include "colour/light_rows.h"

namespace kithue::extract {

/// Three numbers proportional to light, in the picture's own primaries.
using Light = std::array<double, 3>;

Lab lab_from_light(const Light& light, const Matrix3& to_xyz) noexcept;
Light light_from_lab(const Lab& lab, const Matrix3& from_xyz) noexcept;

/// How the picture was smeared.
struct Smear {
  double sharp = 0.7;         ///< standard deviation in pixels of lens, pixel area and all that acts on light
  double trust_chroma = 0.5;  ///< weight of the colour-difference signals against brightness
  double chroma2 =
      1.0;  ///< extra variance, in pixels squared, of the colour-difference signals (JPEG 4:2:0: 1)
};

/// A place where a line of an unknown colour runs between two known ones (perhaps the same on both sides).
struct LinePlace {
  double x = 0.0;  ///< pixel, near the middle of the line
  double y = 0.0;
  Light left;  ///< the known colour on the side of lower x (or y, for a level line)
  Light right;
  bool across_x = true;  ///< the line is crossed by going along x, else along y
  double gain = 1.0;     ///< light here, as a part of the mean over the frame
};

/// One cut through the line, coded as JPEG does: brightness and two colour differences at distances from the
/// middle.
struct Cut {
  std::vector<double> at;                    ///< pixels across the line
  std::vector<std::array<double, 3>> value;  ///< Y', Cb', Cr' on the scale where white has Y' = 1
  std::vector<double> weight;                ///< pixels that were averaged
  Light left{};
  Light right{};
  double middle = 0.0;
  double width = 2.0;
  bool usable = false;
};

/// Reads the pixels around a place, finds the direction of the line and averages along it, from `before`
/// pixels before the place to `after` pixels after it.
Cut cut_at(const LightRows& picture, const LinePlace& place, double before, double after);

/// The colour that one cut shows by itself, and how surely.
struct CutColour {
  Light light{};
  std::array<std::array<double, 3>, 3> information{};  ///< how fast the cost grows around `light`
  double cost = 0.0;                                   ///< sum of squares that the model leaves
  double weight = 0.0;                                 ///< number of values behind it
  bool found = false;
};

/// Fits a band of one colour between the known colours, smeared in light, coded, its colour differences
/// smeared again. Leaves middle and width in the cut.
CutColour fit_cut(Cut& cut, const Smear& smear);

/// How much worse a cut fits when its line is said to have this light.
double worse_by(const CutColour& own, const Light& light) noexcept;

struct LineColour {
  Light light{};
  double width = 0.0;   ///< median width of the line in pixels
  double misfit = 0.0;  ///< root mean square of what the model leaves, Y' units
};

/// The colour that all cuts share, fitted to all of them together. `start` is a first guess.
LineColour fit_together(const std::vector<Cut*>& cuts, const Smear& smear, const Light& start);

/// The smear of plain edges between two known colours, from many cuts: the median. Negative when too few can
/// tell.
double edge_sharpness(std::vector<Cut>& cuts);

/// The smear under which lines of unknown colour fit best.
double line_sharpness(std::vector<Cut> cuts, double chroma2, Executor& executor);

}  // namespace kithue::extract
