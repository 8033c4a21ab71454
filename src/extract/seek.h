// SPDX-License-Identifier: MIT
#pragma once

#include <cstdint>
#include <vector>

#include "base/executor.h"
#include "extract/cells.h"
#include "extract/flat.h"

namespace kithue::extract {

/// A cell in the middle of something narrow.
struct Core {
  int x = 0;
  int y = 0;
  std::uint8_t left = kNoLabel;  ///< known colours on its sides
  std::uint8_t right = kNoLabel;
  std::uint8_t before = 0;  ///< cells to them
  std::uint8_t after = 0;
  bool across_x = true;
  CellLab lab;
  bool doubtful = false;  ///< an edge whose colour coding has smeared may look like this
};

struct Edge {
  int x = 0;
  int y = 0;
  std::uint8_t left = kNoLabel;
  std::uint8_t right = kNoLabel;
  std::uint8_t before = 0;  ///< cells to the known colours
  std::uint8_t after = 0;
  bool across_x = true;
  bool sure = false;  ///< between large plain places
};

struct Found {
  std::vector<Core> cores;
  std::vector<Edge> edges;
  std::vector<Edge> soft_edges;  ///< the middles of broad ones between large plain places
  int stands_for = 1;            ///< cells for each that was found: of many only some are looked at
};

/// Looks at every cell without a sure colour: does it stand out from what the known colours on both sides of
/// it could mix to (a core), or is it a plain edge between two that differ in brightness? The middle of a
/// broad way from one large colour to another is a doubtful core: a band may lie there that they could mix
/// to. Where the next cells with a sure colour are far off a place on the way that comes near to one is a
/// side as well. The first `sure` of the `known` colours have large plain places.
Found look_everywhere(const Cells& cells, const CellColours& labels, const std::vector<Lab>& known,
                      std::size_t sure, Executor& executor);

}  // namespace kithue::extract
