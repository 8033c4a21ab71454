// SPDX-License-Identifier: MIT
#include "extract/flat.h"

#include <algorithm>
#include <cmath>

namespace kithue::extract {

int grain_of(const Cells& cells, Executor& executor) {
  constexpr int kMost = 16 * kSteps;
  std::vector<std::vector<std::int64_t>> counts(bands(cells.height));
  executor.run(counts.size(), [&](std::size_t band) {
    counts[band].assign(kMost + 1, 0);
    const int first = static_cast<int>(band) * kBand;
    for (int y = first; y < std::min(first + kBand, cells.height); y += 4) {
      const CellLab* row = cells.row(y);
      for (int x = 0; x + 1 < cells.width; x += 2) {
        const double gap = std::sqrt(static_cast<double>(gap2(row[x], row[x + 1])));
        ++counts[band][static_cast<std::size_t>(std::min(kMost, static_cast<int>(gap)))];
      }
    }
  });
  std::int64_t all = 0;
  for (const auto& some : counts) {
    for (const std::int64_t n : some) all += n;
  }
  std::int64_t below = 0;
  for (std::size_t gap = 0; gap <= kMost; ++gap) {
    for (const auto& some : counts) below += some[gap];
    if (4 * below >= all) return static_cast<int>(gap);
  }
  return kMost;
}

FlatTest::FlatTest(const Cells& cells, int grain) : cells_(cells) {
  const int limit = std::clamp(5 * grain, kSteps, 4 * kSteps);
  limit2_ = limit * limit;
}

bool FlatTest::at(int x, int y) const {
  if (x < 1 || y < 1 || x + 1 >= cells_.width || y + 1 >= cells_.height) return false;
  const CellLab* row = cells_.row(y);
  const CellLab& here = row[x];
  return gap2(here, row[x - 1]) <= limit2_ && gap2(here, row[x + 1]) <= limit2_ &&
         gap2(here, cells_.row(y - 1)[x]) <= limit2_ && gap2(here, cells_.row(y + 1)[x]) <= limit2_;
}

Histogram flat_histogram(const Cells& cells, const FlatTest& flat, Executor& executor) {
  std::vector<Histogram> parts(bands(cells.height));
  executor.run(parts.size(), [&](std::size_t band) {
    const int first = static_cast<int>(band) * kBand;
    for (int y = first; y < std::min(first + kBand, cells.height); ++y) {
      for (int x = 1; x + 1 < cells.width; ++x) {
        if (flat.at(x, y)) parts[band].add(cells.row(y)[x]);
      }
    }
  });
  Histogram all;
  for (const auto& part : parts) all.join(part);
  return all;
}

std::vector<std::uint8_t> labels_of(const Cells& cells, const FlatTest& flat, const std::vector<Lab>& colours,
                                    Executor& executor) {
  constexpr double kSure = 8.0;  // Lab units from the colour, a* and b* halved
  std::vector<CellLab> targets;
  for (const Lab& lab : colours) {
    const auto step = [](double v) { return static_cast<std::int16_t>(std::lround(v * kSteps)); };
    targets.push_back({step(lab.L), step(lab.a), step(lab.b)});
  }
  std::vector<std::uint8_t> labels(cells.lab.size(), kNoLabel);
  executor.run(bands(cells.height), [&](std::size_t band) {
    const int first = static_cast<int>(band) * kBand;
    for (int y = first; y < std::min(first + kBand, cells.height); ++y) {
      std::uint8_t* out = labels.data() + static_cast<std::size_t>(y) * static_cast<std::size_t>(cells.width);
      for (int x = 1; x + 1 < cells.width; ++x) {
        if (!flat.at(x, y)) continue;
        const CellLab& here = cells.row(y)[x];
        int best = static_cast<int>(kSure * kSteps * kSure * kSteps);
        for (std::size_t i = 0; i < targets.size(); ++i) {
          const int d = gap2(here, targets[i]);
          if (d < best) {
            best = d;
            out[x] = static_cast<std::uint8_t>(i);
          }
        }
      }
    }
  });
  return labels;
}

}  // namespace kithue::extract
