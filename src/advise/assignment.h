// SPDX-License-Identifier: MIT
#pragma once

#include <cstddef>
#include <vector>

namespace kithue {

/// A table of costs, row by row.
struct CostTable {
  std::size_t rows = 0;
  std::size_t columns = 0;
  std::vector<double> cost;  ///< rows * columns, finite, 0 or more
  [[nodiscard]] double at(std::size_t row, std::size_t column) const { return cost[row * columns + column]; }
};

inline constexpr std::size_t kUnassigned = static_cast<std::size_t>(-1);

/// The one-to-one assignment of rows to columns with the least total cost. Every row gets a column while
/// there are at least as many columns; otherwise every column is used and the rows left over are kUnassigned.
/// The same table always gives the same answer.
/// Source: the Hungarian method in its shortest-path form: Jonker & Volgenant, Computing 38, 325-340 (1987).
std::vector<std::size_t> best_assignment(const CostTable& table);

}  // namespace kithue
