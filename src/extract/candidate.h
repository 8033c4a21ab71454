// SPDX-License-Identifier: MIT
#pragma once

#include <cstddef>
#include <vector>

#include "base/executor.h"
#include "colour/light_rows.h"
#include "extract/cells.h"
#include "extract/cut.h"
#include "extract/line_fit.h"
#include "extract/looks.h"
#include "extract/thin_colour.h"

namespace kithue::extract {

inline constexpr double kBroad = 3.2;  ///< times the smear: the middle of such a line is plain

/// What a search for lines works with.
struct Search {
  const LightRows& picture;
  const Cells& cells;
  const Cutter& cutter;
  const std::vector<Lab>& known;
  std::vector<double> known_cells;
  std::size_t sure;  ///< the first so many of these have large plain places
  int grain;
  bool detailed;
  int most_bands;  ///< so many side by side are told apart
  Smear smear;
  bool told;  ///< edges told the smear
  double cores_a_look;
  std::size_t open_looks;  ///< before any is explained
};

/// A colour that a group of looks seems to show.
struct Candidate {
  ThinColour colour;
  LineColour line;  ///< as fitted to all of them
  Light ink{};
  std::vector<const Look*> shown;
  bool dots = false;
  double sure_width = 0.0;  ///< pixels: from there on it may be a colour though it looks like a mixture
};

/// No ink is lighter than the picture's white, whatever a fit of narrow lines says.
Lab lab_of_ink(Light light, const LightRows& picture);

/// Closes the looks that show it, but for those that show the `rival` rather: another heap of the same group.
Candidate candidate_of(const Search& search, const Group& group, const Group* rival,
                       const Agreement& agreement, std::vector<Look>& looks, Executor& executor);

/// True when many looks show a line, not a dot, and it fits well under a smear that edges told.
bool is_well_told(const Search& search, const Candidate& one);

}  // namespace kithue::extract
