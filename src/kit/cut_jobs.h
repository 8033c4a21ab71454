// SPDX-License-Identifier: MIT
#pragma once

#include <cstdint>
#include <string>
#include <string_view>
#include <vector>

#include "kit/cut_plan.h"
#include "kit/kit.h"

namespace kithue {

/// With what is spoilt on top, rounded up: of 30 pieces and 5 %, 32. Counted in millionths, so that no
/// rounding of the percentage matters. REQUIRES: pieces of 0 or more, a percentage from 0 to 100.
std::int64_t with_spoilage(std::int64_t pieces, double percent);

/// Whole kits made up: those ordered and the spares.
std::int64_t kits_made(const Kit& kit);

/// The ways that a piece may lie on its sheet: what its turn, the direction of its face and the grain of its
/// stock ask for. A fold runs along the grain (common practice, no source) where the piece fits so.
struct WaysToLie {
  bool upright = true;
  bool turned = true;
  bool against_grain =
      false;  ///< a fold would run across the grain: the other way does not fit, or may not be
};
WaysToLie ways_to_lie(const Kit& kit, const KitPiece& piece);

/// All that is cut from each paper for all kits, spares and spoilage: the stocks in the order of the cards,
/// then the sheets of the pack in the order of the faces, with the portions and the snippets of the strips.
/// What students cut from their portions is not in it, nor are dots.
std::vector<CutJob> cut_jobs(const Kit& kit);

/// What a student cuts from her portions of one sheet of the pack, in one kit.
struct PortionJob {
  CutJob job;                 ///< its sheet is the portion
  std::int64_t portions = 0;  ///< of that size that she has; 0: the kit gives her none of this sheet
  std::string where;          ///< the place of the last piece in the kit file
};
/// Every sheet of the pack from whose portions something is to be cut. Where portions of several sizes are of
/// one sheet, the largest is meant.
std::vector<PortionJob> portion_jobs(const Kit& kit);

}  // namespace kithue
