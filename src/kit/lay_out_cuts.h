// SPDX-License-Identifier: MIT
#pragma once

#include <cstdint>
#include <vector>

#include "kit/cut_plan.h"
#include "kit/guillotine.h"

namespace kithue {

/// A block without the pieces that are not wanted: of each kind the first `keep[k]` stay. kNoBlock when none
/// do.
std::size_t without_surplus(Blocks& blocks, std::size_t block, std::vector<std::int64_t> keep);

/// Puts a block into the top left corner of the sheet and lists the cuts that free its pieces, strips first.
/// PlacedPiece::piece is the kind; `turned` is left to the caller.
SheetPlan lay_out_cuts(const Blocks& blocks, std::size_t block, const Extent& sheet);

}  // namespace kithue
