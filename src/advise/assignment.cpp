// SPDX-License-Identifier: MIT
#include "advise/assignment.h"

#include <limits>

namespace kithue {
namespace {

/// REQUIRES: rows <= columns.
std::vector<std::size_t> assigned_wide(const CostTable& table) {
  const std::size_t n = table.rows;
  const std::size_t m = table.columns;
  // Index 0 stands for "none" on both sides, so that each row can enter from it.
  std::vector<double> row_price(n + 1, 0.0);
  std::vector<double> column_price(m + 1, 0.0);
  std::vector<std::size_t> row_of(m + 1, 0);
  for (std::size_t entering = 1; entering <= n; ++entering) {
    row_of[0] = entering;
    std::vector<double> slack(m + 1, std::numeric_limits<double>::infinity());
    std::vector<std::size_t> came_from(m + 1, 0);
    std::vector<bool> visited(m + 1, false);
    std::size_t column = 0;
    do {
      visited[column] = true;
      const std::size_t row = row_of[column];
      double least = std::numeric_limits<double>::infinity();
      std::size_t next = 0;
      for (std::size_t k = 1; k <= m; ++k) {
        if (visited[k]) continue;
        const double reduced = table.at(row - 1, k - 1) - row_price[row] - column_price[k];
        if (reduced < slack[k]) {
          slack[k] = reduced;
          came_from[k] = column;
        }
        if (slack[k] < least) {
          least = slack[k];
          next = k;
        }
      }
      for (std::size_t k = 0; k <= m; ++k) {
        if (visited[k]) {
          row_price[row_of[k]] += least;
          column_price[k] -= least;
        } else {
          slack[k] -= least;
        }
      }
      column = next;
    } while (row_of[column] != 0);
    while (column != 0) {
      row_of[column] = row_of[came_from[column]];
      column = came_from[column];
    }
  }
  std::vector<std::size_t> column_of(n, kUnassigned);
  for (std::size_t k = 1; k <= m; ++k) {
    if (row_of[k] != 0) column_of[row_of[k] - 1] = k - 1;
  }
  return column_of;
}

}  // namespace

std::vector<std::size_t> best_assignment(const CostTable& table) {
  if (table.rows == 0 || table.columns == 0) return std::vector<std::size_t>(table.rows, kUnassigned);
  if (table.rows <= table.columns) return assigned_wide(table);
  CostTable turned{table.columns, table.rows, std::vector<double>(table.cost.size())};
  for (std::size_t r = 0; r < table.rows; ++r) {
    for (std::size_t c = 0; c < table.columns; ++c) turned.cost[c * table.rows + r] = table.at(r, c);
  }
  const std::vector<std::size_t> row_of = assigned_wide(turned);
  std::vector<std::size_t> column_of(table.rows, kUnassigned);
  for (std::size_t c = 0; c < table.columns; ++c) column_of[row_of[c]] = c;
  return column_of;
}

}  // namespace kithue
