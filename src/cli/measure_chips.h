// SPDX-License-Identifier: MIT
#pragma once

#include <array>
#include <cstddef>
#include <functional>
#include <optional>
#include <string>
#include <vector>

#include "base/result.h"
#include "cli/command.h"
#include "cli/measure.h"
#include "colour/lab.h"
#include "extract/chips.h"
#include "extract/correction.h"
#include "photo/photo.h"

namespace kithue {

/// A region of the photo and what was read there.
struct Chip {
  std::string name;          ///< its number while it has no other
  ChipBox box;               ///< pixels of the upright photo
  bool named = false;        ///< the user said what it is called
  std::optional<Lab> known;  ///< its true colour, where that is known
  ChipLight light;
  Lab lab;
  std::vector<std::string> warnings;
};

/// All regions of a photo. Chart patches that lie in a grid of their own come after the chips.
struct ChipSet {
  std::vector<Chip> chips;
  std::size_t numbered = 0;              ///< how many of them have a number
  std::optional<KnownPatch> background;  ///< a plain background of known colour
  /// How bright the background is around a region, as a part: what its light is divided by. Empty where no
  /// background was looked for.
  std::function<std::array<double, 3>(const ChipBox&)> light_at;
  std::vector<std::string> warnings;
};

/// Finds the regions and settles their names and known colours. Errors: bad_usage, bad_input, cannot_read,
/// impossible (nothing found), not_found and ambiguous for names of the stash.
Result<ChipSet> chips_for(const MeasureOptions& options, const Photo& photo, Session& session);

/// Reads every region and says what is odd about it.
void read_chips(ChipSet& set, const LightRows& light);

/// Fits the correction and gives every region its colour; nothing when no colour in the frame is known.
/// Errors: impossible when no known region can be used.
Result<std::optional<Correction>> correct_chips(ChipSet& set, const LightRows& light);

/// The photo, made small, with a named frame around every region: an SVG that loads nothing from elsewhere.
std::string chip_picture(const Photo& photo, const std::vector<Chip>& chips);

}  // namespace kithue
