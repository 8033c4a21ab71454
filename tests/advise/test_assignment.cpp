// SPDX-License-Identifier: MIT
#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>
#include <numeric>
#include <set>

#include "advise/assignment.h"
#include "advise/dice.h"

using namespace kithue;

namespace {

double total_of(const CostTable& table, const std::vector<std::size_t>& chosen) {
  double total = 0.0;
  for (std::size_t r = 0; r < chosen.size(); ++r) {
    if (chosen[r] != kUnassigned) total += table.at(r, chosen[r]);
  }
  return total;
}

/// The least total over every way to seat the rows.
double least_by_trying_all(const CostTable& table, std::size_t row, std::vector<bool>& taken) {
  if (row == table.rows) return 0.0;
  double best = 1e300;
  for (std::size_t c = 0; c < table.columns; ++c) {
    if (taken[c]) continue;
    taken[c] = true;
    best = std::min(best, table.at(row, c) + least_by_trying_all(table, row + 1, taken));
    taken[c] = false;
  }
  return best;
}

CostTable random_table(Dice& dice, std::size_t rows, std::size_t columns) {
  CostTable table{rows, columns, {}};
  for (std::size_t i = 0; i < rows * columns; ++i) {
    table.cost.push_back(dice.chance(0.3) ? dice.whole(0, 3) : dice.between(0.0, 40.0));
  }
  return table;
}

}  // namespace

TEST_CASE("best_assignment: the least total on 500 random tables, against trying every way") {
  Dice dice(77);
  for (int i = 0; i < 500; ++i) {
    const auto rows = static_cast<std::size_t>(dice.whole(1, 5));
    const CostTable table = random_table(dice, rows, rows + dice.index(3));
    const auto chosen = best_assignment(table);
    std::vector<bool> taken(table.columns, false);
    CHECK(std::fabs(total_of(table, chosen) - least_by_trying_all(table, 0, taken)) < 1e-9);
    CHECK(std::set<std::size_t>(chosen.begin(), chosen.end()).size() == rows);
  }
}

TEST_CASE("best_assignment: more rows than columns leaves the costliest over") {
  const CostTable table{3, 2, {1, 9, 2, 3, 9, 9}};
  CHECK(best_assignment(table) == std::vector<std::size_t>{0, 1, kUnassigned});
  CHECK(best_assignment({2, 0, {}}) == std::vector<std::size_t>{kUnassigned, kUnassigned});
  CHECK(best_assignment({0, 0, {}}).empty());
}

TEST_CASE("best_assignment: order of the columns changes the total of nothing") {
  Dice dice(5);
  for (int i = 0; i < 50; ++i) {
    const CostTable table = random_table(dice, 8, 40);
    CostTable mirrored = table;
    for (std::size_t r = 0; r < table.rows; ++r) {
      const auto begin = mirrored.cost.begin() + static_cast<std::ptrdiff_t>(r * table.columns);
      std::reverse(begin, begin + static_cast<std::ptrdiff_t>(table.columns));
    }
    CHECK(std::fabs(total_of(table, best_assignment(table)) - total_of(mirrored, best_assignment(mirrored))) <
          1e-9);
  }
}
