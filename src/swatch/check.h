// SPDX-License-Identifier: MIT
#pragma once

#include <cstddef>
#include <string>
#include <vector>

#include "swatch/stash.h"

namespace kithue {

/// Something in a stash that its owner should look at.
struct Finding {
  std::string
      code;  ///< "twin_name", "close", "no_number", "mixed_batches", "mixed_conditions", "far_reading"
  std::string what;      ///< in words
  std::vector<int> ids;  ///< the swatches it is about
};

/// Two swatches of one kind nearer than this are probably one thing entered twice. Common practice, no
/// source.
inline constexpr double kCloseDe00 = 0.5;
/// A reading is pointed out when there are three or more and it is further than this from the swatch's
/// colour, and three times as far as the middle one. Ours, no source.
inline constexpr double kFarReadingDe00 = 1.0;

/// Findings: twin names, close colours, missing numbers, mixed batches, mixed conditions (M0 with M1, wet
/// with dry), far readings, each in order of id. A swatch is named with its nearest alone. 10000 swatches in
/// well under a second.
std::vector<Finding> check_stash(const Stash& stash);

/// What should be said when these swatches are new or have got readings: of the findings above the twin
/// names, close colours and mixed batches that they are part of. Nothing is ever merged for it.
std::vector<Finding> duplicate_findings(const Stash& stash, const std::vector<int>& ids);

/// Which of the readings that make a swatch's colour lie far from the others, by index.
std::vector<std::size_t> far_readings(const Swatch& swatch);

}  // namespace kithue
