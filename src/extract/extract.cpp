// SPDX-License-Identifier: MIT
#include <algorithm>
#include <array>
#include <cmath>
#include <cstdlib>

#include "colour/difference.h"
#include "colour/words.h"
#include "extract/cells.h"
#include "extract/histogram.h"
#include "extract/palette.h"
#include "extract/roles.h"
#include "extract/trust.h"

namespace kithue {
namespace {

using extract::CellLab;
using extract::Cells;

/// Squared distance in steps, for comparing neighbours.
int gap2(const CellLab& p, const CellLab& q) noexcept {
  const int dL = p.L - q.L;
  const int da = (p.a - q.a) / 2;  // a* and b* carry more noise, and JPEG keeps them at half size
  const int db = (p.b - q.b) / 2;
  return dL * dL + da * da + db * db;
}

/// How much neighbours differ where nothing is drawn, in steps: a low quantile over the picture.
int grain_of(const Cells& cells, Executor& executor) {
  constexpr int kMost = 16 * extract::kSteps;
  std::vector<std::vector<std::int64_t>> counts(extract::bands(cells.height));
  executor.run(counts.size(), [&](std::size_t band) {
    counts[band].assign(kMost + 1, 0);
    const int first = static_cast<int>(band) * extract::kBand;
    for (int y = first; y < std::min(first + extract::kBand, cells.height); y += 4) {
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

bool flat_at(const Cells& cells, int x, int y, int limit2) {
  const CellLab* row = cells.row(y);
  const CellLab& here = row[x];
  return gap2(here, row[x - 1]) <= limit2 && gap2(here, row[x + 1]) <= limit2 &&
         gap2(here, cells.row(y - 1)[x]) <= limit2 && gap2(here, cells.row(y + 1)[x]) <= limit2;
}

extract::Histogram flat_histogram(const Cells& cells, int limit, Executor& executor) {
  std::vector<extract::Histogram> parts(extract::bands(cells.height));
  const int limit2 = limit * limit;
  executor.run(parts.size(), [&](std::size_t band) {
    const int first = static_cast<int>(band) * extract::kBand;
    for (int y = std::max(1, first); y < std::min({first + extract::kBand, cells.height - 1}); ++y) {
      for (int x = 1; x + 1 < cells.width; ++x) {
        if (flat_at(cells, x, y, limit2)) parts[band].add(cells.row(y)[x]);
      }
    }
  });
  extract::Histogram all;
  for (const auto& part : parts) all.join(part);
  return all;
}

extract::Histogram whole_histogram(const Cells& cells) {
  extract::Histogram all;
  for (const CellLab& cell : cells.lab) all.add(cell);
  return all;
}

/// Cells nearest to each colour.
std::vector<double> shares_of(const std::vector<extract::Bin>& bins,
                              const std::vector<extract::Peak>& peaks) {
  std::vector<double> shares(peaks.size(), 0.0);
  double all = 0.0;
  for (const extract::Bin& bin : bins) {
    const auto n = static_cast<double>(bin.count);
    const Lab lab{static_cast<double>(bin.sum[0]) / n / extract::kSteps,
                  static_cast<double>(bin.sum[1]) / n / extract::kSteps,
                  static_cast<double>(bin.sum[2]) / n / extract::kSteps};
    std::size_t nearest = 0;
    double distance = 1e9;
    for (std::size_t i = 0; i < peaks.size(); ++i) {
      const double d = std::hypot(lab.L - peaks[i].lab.L, lab.a - peaks[i].lab.a, lab.b - peaks[i].lab.b);
      if (d < distance) {
        distance = d;
        nearest = i;
      }
    }
    shares[nearest] += n;
    all += n;
  }
  for (double& share : shares) share /= all;
  return shares;
}

}  // namespace

Palette extract_palette(const LightRows& picture, const ExtractOptions& options, Executor& executor) {
  const Cells cells = extract::cells_of(picture, executor);
  const double count = static_cast<double>(cells.lab.size());
  const int grain = grain_of(cells, executor);
  const int limit = std::clamp(4 * grain, extract::kSteps, 4 * extract::kSteps);
  const auto every_bin = whole_histogram(cells).bins();
  auto peaks =
      extract::peaks_of(flat_histogram(cells, limit, executor).bins(), std::max(6.0, 0.0004 * count));
  if (peaks.empty()) peaks = extract::peaks_of(every_bin, 1.0);
  if (options.colours > 0 && peaks.size() > static_cast<std::size_t>(options.colours)) {
    peaks.resize(static_cast<std::size_t>(options.colours));
  }
  const auto shares = shares_of(every_bin, peaks);
  Palette palette;
  for (std::size_t i = 0; i < peaks.size(); ++i) {
    palette.colours.push_back({peaks[i].lab, shares[i], Role::motif, plain_words(peaks[i].lab)});
  }
  extract::give_roles(palette.colours);
  palette.trust = extract::trust_of(picture, options.facts);
  return palette;
}

}  // namespace kithue
