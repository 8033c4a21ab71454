// SPDX-License-Identifier: MIT
#include "extract/census.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <cstddef>
#include <cstdint>
#include <numeric>

#include "extract/flat.h"
#include "extract/mixture.h"
#include "extract/row_work.h"

namespace kithue::extract {
namespace {

constexpr double kStrange = 8.0;  // Lab units from any mixture
constexpr int kLot = 32;          // of the cells of no colour one in so many is looked at

struct Count {
  std::array<std::int64_t, 256> plain{};
  std::int64_t strange = 0;
  std::int64_t all = 0;
};

}  // namespace

Census census_of(const Cells& cells, int step, const std::vector<Lab>& colours, Executor& executor) {
  const LabelTargets targets(colours);
  const Mixtures mixtures(colours);
  const std::vector<std::uint8_t> all_flat(static_cast<std::size_t>(cells.width), 0);
  std::vector<Count> parts(bands(cells.height));
  executor.run(parts.size(), [&](std::size_t band) {
    Count& count = parts[band];
    std::vector<std::uint8_t> labels(all_flat.size());
    const int first = static_cast<int>(band) * kBand;
    for (int y = first; y < std::min(first + kBand, cells.height); y += step) {
      targets.nearest(cells.row(y), all_flat.data(), cells.width, colours.size(), labels.data());
      count.all += cells.width;
      for (int x = 0; x < cells.width; ++x) {
        const std::uint8_t label = labels[static_cast<std::size_t>(x)];
        ++count.plain[label];
        if (label == kNoLabel && lot_of(x, cells.place(y)) % kLot == 0 &&
            mixtures.least_miss(lab_of(cells.row(y)[x])) > kStrange)
          count.strange += kLot;
      }
    }
  });
  Count sum;
  for (const Count& part : parts) {
    for (std::size_t i = 0; i < sum.plain.size(); ++i) sum.plain[i] += part.plain[i];
    sum.strange += part.strange;
    sum.all += part.all;
  }
  const double by_all = 1.0 / static_cast<double>(std::max<std::int64_t>(1, sum.all));
  Census out;
  for (std::size_t i = 0; i < colours.size(); ++i)
    out.plain.push_back(static_cast<double>(sum.plain[i]) * by_all);
  out.strange = static_cast<double>(sum.strange) * by_all;
  return out;
}

bool shows_more(const Census& rows, const Census& cells) noexcept {
  constexpr double kArea = 0.0015;
  constexpr double kPart = 1.5;
  return rows.strange > kArea + kPart * cells.strange;
}

void set_right(std::vector<double>& shares, const Census& rows, const Census& cells) {
  constexpr double kFew = 0.0005;  // of the area: a colour of lines only has hardly any plain cells
  for (std::size_t i = 0; i < shares.size(); ++i)
    shares[i] *= (rows.plain[i] + kFew) / (cells.plain[i] + kFew);
  const double sum = std::accumulate(shares.begin(), shares.end(), 0.0);
  for (double& share : shares) share /= sum;
}

}  // namespace kithue::extract
