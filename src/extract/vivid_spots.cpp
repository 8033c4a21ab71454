// SPDX-License-Identifier: MIT
#include "extract/vivid_spots.h"

#include <algorithm>
#include <cstddef>
#include <utility>

#include "extract/flat.h"
#include "extract/interior.h"
#include "extract/mixture.h"
#include "extract/rare_looks.h"

namespace kithue::extract {
namespace {

constexpr int kEveryRow = 2;  // one in so many is looked at

/// A cell of a colour that nothing known mixes to.
struct UnlikeCell {
  Lab lab;
  double miss = 0.0;  ///< Lab units
};

/// The farthest from all mixtures first.
std::vector<UnlikeCell> unlike_cells(const Cells& cells, const std::vector<std::uint8_t>& labels,
                                     const std::vector<Lab>& colours, Executor& executor) {
  constexpr int kCalm = 12 * kSteps;  // across a line or an edge more changes from cell to cell
  const Mixtures mixtures(colours);
  std::vector<std::vector<UnlikeCell>> parts(bands(cells.height));
  executor.run(parts.size(), [&](std::size_t band) {
    const int first = static_cast<int>(band) * kBand;
    for (int y = first; y < std::min(first + kBand, cells.height); y += kEveryRow) {
      if (y == cells.run_top(y) || y + 1 >= cells.run_end(y)) continue;
      const CellRow row = cells.row(y);
      const std::uint8_t* const label = labels.data() + cells.at(0, y);
      for (int x = 1; x + 1 < cells.width; ++x) {
        if (label[x] != kNoLabel || !is_like_all_around(cells, x, y, 1, kCalm)) continue;
        const Lab lab = lab_of(row[x]);
        if (is_unlike_all(lab, mixtures)) parts[band].push_back({lab, mixtures.least_miss(lab)});
      }
    }
  });
  std::vector<UnlikeCell> all;
  for (const auto& part : parts) all.insert(all.end(), part.begin(), part.end());
  std::stable_sort(all.begin(), all.end(),
                   [](const UnlikeCell& p, const UnlikeCell& q) { return p.miss > q.miss; });
  return all;
}

/// The mean of those that look like the farthest of them, which come first, and how many they are. These
/// leave.
std::pair<Lab, std::size_t> take_farthest(std::vector<UnlikeCell>& cells) {
  constexpr double kNear = 15.0;          // Lab units
  constexpr std::size_t kOutermost = 20;  // one in so many may be noise
  const Lab farthest = cells[cells.size() / kOutermost].lab;
  const auto others = std::stable_partition(cells.begin(), cells.end(), [&](const UnlikeCell& one) {
    return lab_distance(one.lab, farthest) >= kNear;
  });
  Lab sum;
  for (auto one = others; one != cells.end(); ++one) {
    sum.L += one->lab.L;
    sum.a += one->lab.a;
    sum.b += one->lab.b;
  }
  const auto count = static_cast<std::size_t>(cells.end() - others);
  const double n = static_cast<double>(count);
  cells.erase(others, cells.end());
  return {{sum.L / n, sum.a / n, sum.b / n}, count};
}

}  // namespace

std::vector<Lab> vivid_spots(const Cells& cells, const std::vector<std::uint8_t>& labels,
                             const std::vector<Lab>& colours, Executor& executor) {
  constexpr double kLeastArea = 0.0001;  // of the cells: the calm middles of what fills 0.25 %
  constexpr double kLeastCells = 24.0;
  constexpr std::size_t kMostSpots = 8;
  const auto least = static_cast<std::size_t>(
      std::max(kLeastCells, kLeastArea * static_cast<double>(cells.count())) / kEveryRow);
  std::vector<UnlikeCell> left = unlike_cells(cells, labels, colours, executor);
  std::vector<Lab> known = colours;
  while (left.size() >= least && known.size() < colours.size() + kMostSpots) {
    const auto [lab, count] = take_farthest(left);
    if (count < least) continue;
    known.push_back(lab);
    const Mixtures mixtures(known);
    std::erase_if(left, [&](const UnlikeCell& one) { return !is_unlike_all(one.lab, mixtures); });
  }
  return {known.begin() + static_cast<std::ptrdiff_t>(colours.size()), known.end()};
}

}  // namespace kithue::extract
