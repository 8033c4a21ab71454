// SPDX-License-Identifier: MIT
#pragma once

#include <cstddef>
#include <cstdint>
#include <utility>
#include <vector>

#include "kit/guillotine.h"

namespace kithue {

/// Sheets to cut by patterns. A pattern may hold pieces that are not wanted any more: they are left out.
struct StockCut {
  std::vector<std::pair<std::size_t, std::int64_t>> times;  ///< pattern, sheets
  std::int64_t sheets = 0;
  bool fewest = false;  ///< proved
};

/// Cuts every kind at least as often as wanted out of few sheets. Patterns and their blocks are added to the
/// two stores. REQUIRES: every kind fits the sheet.
/// Source: Gilmore & Gomory (1965), doi:10.1287/opre.13.1.94, for patterns priced by a linear program; small
/// jobs and what rounding leaves are solved by dynamic programming over all patterns.
StockCut cut_stock(const Extent& sheet, const std::vector<PieceKind>& kinds, Blocks& blocks,
                   std::vector<Pattern>& patterns);

}  // namespace kithue
