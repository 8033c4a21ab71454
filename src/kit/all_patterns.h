// SPDX-License-Identifier: MIT
#pragma once

#include <cstdint>
#include <vector>

#include "kit/guillotine.h"

namespace kithue {

/// Finds every set of pieces, none more often than wanted, that can be cut from one sheet with cuts from edge
/// to edge, and adds the largest of them to `patterns` (all others are parts of those). For each set it keeps
/// the rectangles that hold it of which none lies inside another. True when it went through all; false when
/// that would have taken more than `most_steps`: what was found until then is added all the same.
/// REQUIRES: every kind fits the sheet.
bool all_patterns(const Extent& sheet, const std::vector<PieceKind>& kinds, std::int64_t most_steps,
                  Blocks& blocks, std::vector<Pattern>& patterns);

}  // namespace kithue
