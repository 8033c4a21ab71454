// SPDX-License-Identifier: MIT
#include "extract/grid_smear.h"

#include <algorithm>
#include <cmath>
#include <cstddef>

#include "extract/line_fit.h"

namespace kithue::extract {

Better grid_better_for_lines(const std::vector<Look>& looks, const EdgeSmear& lens, const EdgeSmear& grid,
                             Executor& executor) {
  constexpr std::size_t kMost = 96;
  constexpr double kGood = 0.02;        // root mean square of the misfit, of white
  constexpr double kTrustChroma = 0.1;  // JPEG keeps brightness best
  std::vector<const Cut*> shown;
  for (const Look& look : looks) {
    if (look.cut.usable && look.cut.one_way > kRoundOneWay && shows_grid(look.cut))
      shown.push_back(&look.cut);
  }
  const std::size_t step = std::max<std::size_t>(1, (shown.size() + kMost - 1) / kMost);
  std::vector<double> better((shown.size() + step - 1) / step, 0.0);
  executor.run(better.size(), [&](std::size_t i) {
    const auto fitted = [&](const EdgeSmear& smear) {
      Cut cut = *shown[i * step];
      return fit_cut(cut, {smear.sharp, smear.excess, kTrustChroma, smear.on_grid});
    };
    const CutColour by_lens = fitted(lens);
    const CutColour by_grid = fitted(grid);
    if (!by_lens.found || !by_grid.found) return;
    if (std::min(by_lens.cost, by_grid.cost) < kGood * kGood * by_lens.weight)
      better[i] = (by_lens.cost - by_grid.cost) / by_lens.weight;
  });
  Better out;
  for (const double by : better) {
    if (by != 0.0) out.add(by);
  }
  return out;
}

bool is_on_grid(const EdgeSmear& grid, const Better& edges, const Better& lines) noexcept {
  constexpr double kLeast = 2.0;  // standard errors
  if (grid.sharp * grid.sharp < kPixelVariance) return false;
  const double by_edges = edges.errors();
  const double by_lines = lines.errors();
  // Two that are independent add up (Stouffer's method; from memory).
  const double both = by_edges != 0.0 && by_lines != 0.0 ? std::sqrt(2.0) : 1.0;
  return by_edges + by_lines > kLeast * both;
}

}  // namespace kithue::extract
