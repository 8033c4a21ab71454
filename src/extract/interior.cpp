// SPDX-License-Identifier: MIT
#include "extract/interior.h"

#include <algorithm>
#include <array>

#include "extract/mixture.h"

namespace kithue::extract {
namespace {

constexpr int kAllAround = 3;  // cells each way that look like the one in the middle

struct InteriorSum {
  std::array<std::int64_t, 3> steps{};
  std::int64_t count = 0;
  void add(const CellLab& cell) {
    steps[0] += cell.L;
    steps[1] += cell.a;
    steps[2] += cell.b;
    ++count;
  }
  void add(const InteriorSum& other) {
    for (std::size_t c = 0; c < 3; ++c) steps[c] += other.steps[c];
    count += other.count;
  }
  [[nodiscard]] Lab mean() const {
    const double unit = 1.0 / (kSteps * static_cast<double>(count));
    return {static_cast<double>(steps[0]) * unit, static_cast<double>(steps[1]) * unit,
            static_cast<double>(steps[2]) * unit};
  }
};

/// Looks at one cell in `step`. REQUIRES: kAllAround rows of the same run above and below.
void add_interior(const Cells& cells, const FlatTest& flat, const std::vector<std::uint8_t>& labels, int most,
                  int y, int step, std::vector<InteriorSum>& sums) {
  const CellRow row = cells.row(y);
  const std::uint8_t* const label = labels.data() + cells.at(0, y);
  const std::uint8_t* const tiers = flat.row(y);
  for (int x = kAllAround; x + kAllAround < cells.width; x += step) {
    if (tiers[x] != 0 || label[x] == kNoLabel) continue;
    if (is_like_all_around(cells, x, y, kAllAround, most)) sums[label[x]].add(row[x]);
  }
}

}  // namespace

bool is_like_all_around(const Cells& cells, int x, int y, int reach, int most) noexcept {
  const CellRow row = cells.row(y);
  const CellLab cell = row[x];
  const auto is_like = [&](const CellLab& other) { return gap2(cell, other) <= most * most; };
  // From afar, where most differ.
  for (int k = reach; k > 0; --k) {
    if (!is_like(row[x - k]) || !is_like(row[x + k]) || !is_like(cells.row(y - k)[x]) ||
        !is_like(cells.row(y + k)[x]))
      return false;
  }
  return true;
}

std::vector<std::optional<Lab>> interior_means(std::size_t colours, const Cells& cells, const FlatTest& flat,
                                               int grain, const std::vector<std::uint8_t>& labels,
                                               Executor& executor) {
  constexpr std::int64_t kLeastCells = 60;
  constexpr std::size_t kMany = 400'000;
  constexpr double kLoose = 2.5;  // times the grain
  const int most = std::max(kSteps / 2, static_cast<int>(kLoose * grain));
  const int step = cells.count() > kMany ? 3 : 1;
  std::vector<std::vector<InteriorSum>> parts(bands(cells.height), std::vector<InteriorSum>(colours));
  executor.run(parts.size(), [&](std::size_t band) {
    const int first = static_cast<int>(band) * kBand;
    for (int y = first; y < std::min(first + kBand, cells.height); y += step) {
      if (y - kAllAround >= cells.run_top(y) && y + kAllAround < cells.run_end(y))
        add_interior(cells, flat, labels, most, y, step, parts[band]);
    }
  });
  std::vector<std::optional<Lab>> means(colours);
  for (std::size_t i = 0; i < colours; ++i) {
    InteriorSum all;
    for (const auto& part : parts) all.add(part[i]);
    if (step * all.count >= kLeastCells) means[i] = all.mean();
  }
  return means;
}

bool move_inside(std::vector<Lab>& colours, const std::vector<std::optional<Lab>>& interiors) {
  constexpr double kTakenForOne = 1.0;  // Lab units: less is what JPEG's rounding does to either mean
  bool moved = false;
  for (std::size_t i = 0; i < colours.size(); ++i) {
    if (!interiors[i] || lab_distance(*interiors[i], colours[i]) < kTakenForOne) continue;
    colours[i] = *interiors[i];
    moved = true;
  }
  return moved;
}

}  // namespace kithue::extract
