// SPDX-License-Identifier: MIT
#pragma once

#include <cstdint>
#include <vector>

#include "kit/guillotine.h"

namespace kithue {

/// A good way to cut one sheet when a piece of kind k is worth `worth[k]` and no more than `most[k]` are
/// wanted: the sheet falls into strips, a strip into columns, and what is left of each is filled in the same
/// way. Both directions are tried. Not always the best there is. A pattern without a block when nothing fits.
Pattern strip_pattern(const Extent& sheet, const std::vector<PieceKind>& kinds,
                      const std::vector<double>& worth, const std::vector<std::int64_t>& most,
                      Blocks& blocks);

}  // namespace kithue
