// SPDX-License-Identifier: MIT
#include "extract/flat.h"

#include <algorithm>
#include <cmath>
#include <limits>
#include <optional>

#include "colour/difference.h"
#include "extract/mixture.h"

namespace kithue::extract {

int grain_of(const Cells& cells, Executor& executor) {
  constexpr int kMost = 16 * kSteps;
  std::vector<std::vector<std::int64_t>> counts(bands(cells.height));
  executor.run(counts.size(), [&](std::size_t band) {
    counts[band].assign(kMost + 1, 0);
    const int first = static_cast<int>(band) * kBand;
    for (int y = first; y < std::min(first + kBand, cells.height); y += 4) {
      const CellRow row = cells.row(y);
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

FlatTest::FlatTest(const Cells& cells, int grain, Executor& executor) : width_(cells.width) {
  constexpr std::array<double, kFlatTiers> kLoose{1.0, 1.7, 3.0, 5.0};
  const int limit = std::clamp(5 * grain, kSteps, 4 * kSteps);
  std::array<int, kFlatTiers> limit2{};
  for (std::size_t i = 0; i < kFlatTiers; ++i) {
    const int loose = static_cast<int>(kLoose[i] * std::min(limit, 2 * kSteps));
    const int tier = std::max(limit, loose);
    limit2[i] = tier * tier;
  }
  tiers_.assign(cells.count(), kNotFlat);
  const RowWork& work = row_work();
  executor.run(bands(cells.height), [&](std::size_t band) {
    const int first = std::max(1, static_cast<int>(band) * kBand);
    const int last = std::min(static_cast<int>(band + 1) * kBand, cells.height - 1);
    for (int y = first; y < last; ++y) {
      // At the end of a run the next row is far away: the cell's own row stands for it.
      const int top = cells.run_top(y);
      const int bottom = cells.run_end(y) - 1;
      const FlatRows rows{cells.row(std::max(y - 1, top)), cells.row(y), cells.row(std::min(y + 1, bottom)),
                          cells.row(std::max(y - kFarOff, top)), cells.row(std::min(y + kFarOff, bottom))};
      work.judge_flat(rows, width_, limit2.data(), tiers_.data() + cells.at(0, y));
    }
  });
}

namespace {

using TierHistograms = std::array<Histogram, kFlatTiers>;

/// The colours of the flat cells, one cell in `step`, in as many parts as jobs may be in flight.
std::vector<TierHistograms> histograms_of(const Cells& cells, const FlatTest& flat, int step,
                                          Executor& executor) {
  const std::size_t all_bands = bands(cells.height);
  const std::size_t jobs = std::min<std::size_t>(all_bands, std::max<std::size_t>(1, executor.width()));
  std::vector<TierHistograms> parts(jobs);
  executor.run(jobs, [&](std::size_t job) {
    for (std::size_t band = job; band < all_bands; band += jobs) {
      const int first = static_cast<int>(band) * kBand;
      for (int y = first; y < std::min(first + kBand, cells.height); ++y) {
        const CellRow row = cells.row(y);
        const std::uint8_t* const tiers = flat.row(y);
        for (int x = 1 + y % step; x + 1 < cells.width; x += step) {
          const int tier = tiers[x];
          if (tier != kNotFlat) parts[job][static_cast<std::size_t>(tier)].add(row[x]);
        }
      }
    }
  });
  return parts;
}

/// The hills of each tier.
std::array<std::vector<Peak>, kFlatTiers> tier_peaks(const Cells& cells, const FlatTest& flat,
                                                     double roughness, Executor& executor) {
  constexpr std::size_t kMany = 700'000;
  const int step = cells.count() > kMany ? 2 : 1;
  const double count = static_cast<double>(cells.count());
  std::vector<TierHistograms> parts = histograms_of(cells, flat, step, executor);
  std::array<std::vector<Peak>, kFlatTiers> peaks;
  if (parts.empty()) return peaks;
  executor.run(kFlatTiers, [&](std::size_t tier) {
    // Only whole numbers are added, so that how the rows were shared out never shows.
    Histogram& all = parts[0][tier];
    for (std::size_t i = 1; i < parts.size(); ++i) all.join(parts[i][tier]);
    const double least = tier == 0 ? std::max(6.0, 0.0004 * count) : std::max(12.0, 0.0002 * count);
    peaks[tier] = peaks_of(all.bins(step), {least, roughness});
  });
  return peaks;
}

}  // namespace

FlatColours flat_colours(const Cells& cells, const FlatTest& flat, int grain, Executor& executor) {
  const double roughness = static_cast<double>(grain) / kSteps;
  const double own_reach = 6.0 + 5.0 * std::max(0.0, roughness - 0.5);  // dE00: a nearer hill is grain
  constexpr double kMixture = 3.5;                                      // Lab units
  constexpr double kSmall = 0.006;  // of the cells: a mixture of others is no colour unless it fills more
  const double count = static_cast<double>(cells.count());
  const auto peaks = tier_peaks(cells, flat, roughness, executor);
  FlatColours found;
  for (const Peak& peak : peaks[0]) {
    if (peak.count < kSmall * count && is_mixture(peak.lab, found.colours, kMixture)) continue;
    if (found.colours.size() < kMostFlatColours) found.colours.push_back(peak.lab);
  }
  found.sure = found.colours.size();
  if (found.sure == 0) return found;
  for (std::size_t i = 1; i < kFlatTiers; ++i) {
    for (const Peak& peak : peaks[i]) {
      const auto own = [&](const Lab& lab) { return ciede2000(lab, peak.lab) < own_reach; };
      if (found.colours.size() >= 100 || std::any_of(found.colours.begin(), found.colours.end(), own))
        continue;
      if (!is_mixture(peak.lab, found.colours, kMixture)) found.colours.push_back(peak.lab);
    }
  }
  return found;
}

namespace {

constexpr int kSure = 8 * kSteps;  // from the colour, a* and b* halved

}  // namespace

LabelTargets::LabelTargets(const std::vector<Lab>& colours) {
  const auto step = [](double v) { return static_cast<std::int16_t>(std::lround(v * kSteps)); };
  for (const Lab& lab : colours) {
    columns_[0].push_back(step(lab.L));
    columns_[1].push_back(step(lab.a));
    columns_[2].push_back(step(lab.b));
  }
  const auto target = [&](std::size_t i) { return CellLab{columns_[0][i], columns_[1][i], columns_[2][i]}; };
  for (std::size_t i = 0; i < colours.size(); ++i) {
    int least = std::numeric_limits<int>::max();
    for (std::size_t j = 0; j < colours.size(); ++j) {
      if (j != i) least = std::min(least, gap2(target(i), target(j)));
    }
    // Halving a* and b* cuts off up to half a step of each gap.
    constexpr double kCutOff = 4.0;
    const double alone = std::max(0.0, 0.5 * (std::sqrt(static_cast<double>(least)) - kCutOff));
    alone2_.push_back(static_cast<int>(alone * alone));
  }
}

void LabelTargets::nearest(const CellRow& row, const std::uint8_t* tiers, int width, std::size_t small,
                           std::uint8_t* labels) const {
  constexpr int kVeryNear = 3 * kSteps;
  row_work().nearest(row, tiers, width, targets(), small, kSure * kSure, kVeryNear * kVeryNear, labels);
}

void LabelTargets::nearest(const CellRow& row, const std::uint8_t* tiers, int width,
                           std::uint8_t* labels) const {
  constexpr int kRatherNear = 10 * kSteps;
  row_work().nearest(row, tiers, width, targets(), 0, kSure * kSure, kRatherNear * kRatherNear, labels);
}

namespace {

/// What `label_row` finds for each row of the cells.
template <typename LabelRow>
std::vector<std::uint8_t> by_rows(const Cells& cells, Executor& executor, LabelRow label_row) {
  std::vector<std::uint8_t> labels(cells.count());
  executor.run(bands(cells.height), [&](std::size_t band) {
    const int first = static_cast<int>(band) * kBand;
    for (int y = first; y < std::min(first + kBand, cells.height); ++y)
      label_row(y, labels.data() + cells.at(0, y));
  });
  return labels;
}

}  // namespace

std::vector<std::uint8_t> labels_of(const Cells& cells, const FlatTest& flat, const std::vector<Lab>& colours,
                                    std::size_t small, Executor& executor) {
  const LabelTargets targets(colours);
  return by_rows(cells, executor, [&](int y, std::uint8_t* labels) {
    targets.nearest(cells.row(y), flat.row(y), cells.width, small, labels);
  });
}

std::vector<std::uint8_t> nearest_of(const Cells& cells, const FlatTest& flat,
                                     const std::vector<Lab>& colours, Executor& executor) {
  const LabelTargets targets(colours);
  return by_rows(cells, executor, [&](int y, std::uint8_t* labels) {
    targets.nearest(cells.row(y), flat.row(y), cells.width, labels);
  });
}

std::array<std::size_t, 256> count_labels(const std::vector<std::uint8_t>& labels, Executor& executor) {
  constexpr std::size_t kJob = 65'536;
  std::vector<std::array<std::size_t, 256>> parts((labels.size() + kJob - 1) / kJob);
  executor.run(parts.size(), [&](std::size_t job) {
    // Four counters take turns, for one would wait for itself in a row of one colour.
    std::array<std::array<std::uint32_t, 256>, 4> counts{};
    const std::size_t last = std::min(labels.size(), (job + 1) * kJob);
    for (std::size_t i = job * kJob; i < last; ++i) ++counts[i % 4][labels[i]];
    for (std::size_t k = 0; k < 256; ++k)
      parts[job][k] = std::size_t{counts[0][k]} + counts[1][k] + counts[2][k] + counts[3][k];
  });
  std::array<std::size_t, 256> all{};
  for (const auto& part : parts) {
    for (std::size_t k = 0; k < 256; ++k) all[k] += part[k];
  }
  return all;
}

namespace {

/// Pairs of colours, n * n of them.
using Pairs = std::vector<std::uint8_t>;

/// How often flat cells of two colours lie two cells apart, in steps across and down. Of `far` pairs it
/// counts only where nothing changes: beside a much larger step the one between these two passes for flat.
std::vector<double> touches_of(std::size_t colours, const Cells& cells, const FlatTest& flat,
                               const std::vector<std::uint8_t>& labels, const Pairs& far,
                               Executor& executor) {
  constexpr std::size_t kMany = 400'000;
  const int step = cells.count() > kMany ? 4 : 1;  // only how often counts, against one another
  std::vector<std::vector<std::int64_t>> parts(bands(cells.height));
  executor.run(parts.size(), [&](std::size_t band) {
    std::vector<std::int64_t>& counts = parts[band];
    counts.assign(colours * colours, 0);
    const auto width = static_cast<std::size_t>(cells.width);
    const int first = static_cast<int>(band) * kBand;
    for (int y = first; y < std::min(first + kBand, cells.height); y += step) {
      if (y + 2 >= cells.run_end(y)) continue;
      const std::uint8_t* row = labels.data() + static_cast<std::size_t>(y) * width;
      const std::uint8_t* tier = flat.row(y);
      for (std::size_t x = 0; x + 2 < width; ++x) {
        if (row[x] == kNoLabel) continue;
        for (const std::size_t next : {std::size_t{1}, width}) {
          const std::uint8_t between = row[x + next];
          const std::uint8_t other = row[x + 2 * next];
          if (other == kNoLabel || (between != row[x] && between != other)) continue;
          if (far[row[x] * colours + other] != 0 && tier[x] + tier[x + next] + tier[x + 2 * next] > 0)
            continue;
          ++counts[row[x] * colours + other];
          ++counts[other * colours + row[x]];
        }
      }
    }
  });
  std::vector<double> sum(colours * colours, 0.0);
  for (const auto& part : parts) {
    for (std::size_t i = 0; i < part.size(); ++i) sum[i] += static_cast<double>(part[i]);
  }
  return sum;
}

}  // namespace

bool join_touching(FlatColours& flats, const Cells& cells, const FlatTest& flat,
                   const std::vector<std::uint8_t>& labels, const std::vector<std::optional<Lab>>& interiors,
                   Executor& executor) {
  constexpr double kFarthest = 15.0;
  constexpr double kOfTheirOwn = 6.0;  // apart where each has an interior: a wash has hills 4 apart
  // The farther apart, the more they must touch: a rim around every motif touches it along its whole length.
  constexpr double kFar = 8.0;
  const auto needed = [](double distance) { return distance < 5.0 ? 0.03 : distance < kFar ? 0.1 : 0.2; };
  const std::size_t n = flats.colours.size();
  if (n < 2) return false;
  Pairs far(n * n, 0);
  for (std::size_t i = 0; i < n; ++i) {
    for (std::size_t j = 0; j < n; ++j)
      far[i * n + j] = ciede2000(flats.colours[i], flats.colours[j]) < kFar ? 0 : 1;
  }
  const auto touches = touches_of(n, cells, flat, labels, far, executor);
  std::vector<double> size(n, 0.0);
  std::vector<std::size_t> order(n);
  for (std::size_t i = 0; i < n; ++i) {
    order[i] = i;
    for (std::size_t j = 0; j < n; ++j) size[i] += touches[i * n + j];
  }
  std::stable_sort(order.begin(), order.end(),
                   [&](std::size_t i, std::size_t j) { return size[i] < size[j]; });
  std::vector<bool> gone(n, false);
  std::vector<double> mass = size;
  for (const std::size_t i : order) {
    std::size_t best = i;
    double most = 0.0;
    for (std::size_t j = 0; j < n; ++j) {
      if (j == i || gone[j] || size[j] < size[i] || touches[i * n + j] <= most) continue;
      const double distance = ciede2000(flats.colours[i], flats.colours[j]);
      if (distance > kFarthest || touches[i * n + j] <= needed(distance) * size[i]) continue;
      if (interiors[i] && interiors[j] && ciede2000(*interiors[i], *interiors[j]) > kOfTheirOwn) continue;
      most = touches[i * n + j];
      best = j;
    }
    if (best == i) continue;
    gone[i] = true;
    const double part = mass[i] / (mass[i] + mass[best]);
    Lab& to = flats.colours[best];
    const Lab& from = flats.colours[i];
    to = {to.L + part * (from.L - to.L), to.a + part * (from.a - to.a), to.b + part * (from.b - to.b)};
    mass[best] += mass[i];
  }
  FlatColours kept;
  for (std::size_t i = 0; i < n; ++i) {
    if (gone[i]) continue;
    kept.colours.push_back(flats.colours[i]);
    if (i < flats.sure) ++kept.sure;
  }
  flats = std::move(kept);
  return flats.colours.size() < n;
}

}  // namespace kithue::extract
