// SPDX-License-Identifier: MIT
#include "extract/sharpness.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <cstddef>
#include <numeric>

#include "extract/edge_fit.h"
#include "extract/line_fit.h"

namespace kithue::extract {
namespace {

constexpr std::size_t kSmears = 25;  // that are tried, each by kGrow wider than the one before
constexpr double kGrow = 1.09;

/// The smear of one edge, and how well it fits.
struct EdgeFit {
  std::size_t number = kSmears;  ///< of the smear that is nearest; kSmears: not known
  double sharp = -1.0;           ///< negative: it does not fit, or its smear is out of range
  double misfit2 = 0.0;          ///< mean square of the misfit, of the step
};

/// `near`: the number of the smear that fits best under another excess, kSmears when it is not known.
EdgeFit smear_of(const Cut& cut, double least_smear, double excess, bool on_grid, std::size_t near) {
  constexpr std::size_t kCoarse = 3;
  constexpr double kMisfit = 0.035;  // root mean square, of the step: plain edges leave 0.01 to 0.025
  constexpr double kNoise = 0.004;
  if (!cut.usable) return {};
  double middle = 0.0;
  std::array<double, kSmears> costs;
  costs.fill(-1.0);
  const auto cost_at = [&](std::size_t k) {
    if (costs[k] < 0.0)
      costs[k] = edge_cost(cut, {least_smear * std::pow(kGrow, static_cast<double>(k)), excess, 0.0, on_grid},
                           middle);
    return costs[k];
  };
  std::size_t least = near;
  if (near == kSmears) {
    least = 0;
    for (std::size_t k = 0; k < kSmears; k += kCoarse) {
      if (cost_at(k) < cost_at(least)) least = k;
    }
  }
  // Downhill from there.
  const std::size_t start = least;
  while (least > 0 && cost_at(least - 1) < cost_at(least)) --least;
  while (least >= start && least + 1 < kSmears && cost_at(least + 1) < cost_at(least)) ++least;
  const double step = std::abs(coded_of(cut.left)[0] - coded_of(cut.right)[0]);
  const double worst = kMisfit * step + kNoise;
  const double weight = std::accumulate(cut.weight.begin(), cut.weight.end(), 0.0);
  if (least == 0 || least + 1 == kSmears || costs[least] > worst * worst * weight) return {};
  const Bottom bottom = bottom_of(cost_at(least - 1), costs[least], cost_at(least + 1));
  return {least, least_smear * std::pow(kGrow, static_cast<double>(least) + bottom.steps),
          std::max(0.0, bottom.value) / (weight * std::max(1e-6, step * step))};
}

std::vector<EdgeFit> smears_of(const std::vector<Cut>& cuts, double least, double excess, bool on_grid,
                               const std::vector<EdgeFit>& near, Executor& executor) {
  std::vector<EdgeFit> fits(cuts.size());
  executor.run(cuts.size(), [&](std::size_t i) {
    fits[i] = smear_of(cuts[i], least, excess, on_grid, near.empty() ? kSmears : near[i].number);
  });
  return fits;
}

/// The smear that most say; negative when too few can tell.
double middle_sharp(const std::vector<EdgeFit>& fits) {
  constexpr std::size_t kLeast = 8;
  std::vector<double> found;
  for (const EdgeFit& fit : fits) {
    if (fit.sharp > 0.0) found.push_back(fit.sharp);
  }
  return found.size() < kLeast ? -1.0 : median_of(found);
}

struct Fitted {
  EdgeSmear smear;
  std::vector<EdgeFit> edges;
};

/// `near`: the fits under another smear, or none.
Fitted fitted_to(const std::vector<Cut>& cuts, double least, bool on_grid, const std::vector<EdgeFit>& near,
                 Executor& executor) {
  std::array<std::vector<EdgeFit>, 3> fits;
  fits[0] = smears_of(cuts, least, 0.0, on_grid, near, executor);
  const EdgeSmear normal{middle_sharp(fits[0]), 0.0, on_grid};
  if (normal.sharp < 0.0 || normal.sharp > kShapeless) return {normal, std::move(fits[0])};
  for (std::size_t k = 1; k < fits.size(); ++k) {
    const double excess = static_cast<double>(k) * kExcessStep;
    fits[k] = smears_of(cuts, least, excess, on_grid, fits[k - 1], executor);
  }
  std::array<double, 3> costs{};
  for (std::size_t i = 0; i < cuts.size(); ++i) {
    if (std::any_of(fits.begin(), fits.end(), [i](const auto& some) { return some[i].sharp < 0.0; }))
      continue;
    for (std::size_t k = 0; k < fits.size(); ++k) costs[k] += fits[k][i].misfit2;
  }
  const double excess = best_excess(costs);
  std::vector<EdgeFit> best = smears_of(cuts, least, excess, on_grid, fits[1], executor);
  const double sharp = middle_sharp(best);
  if (sharp < 0.0) return {normal, std::move(fits[0])};
  return {{sharp, excess, on_grid}, std::move(best)};
}

}  // namespace

Bottom bottom_of(double low, double middle, double high, double most) noexcept {
  const double down = low - middle;
  const double up = high - middle;
  if (down + up <= 0.0) return {0.0, middle};
  const double steps = std::clamp(0.5 * (down - up) / (down + up), -1.0, most);
  return {steps, middle - 0.25 * (down - up) * steps};
}

double best_excess(const std::array<double, 3>& costs) noexcept {
  if (costs[0] + costs[2] <= 2.0 * costs[1]) return costs[0] < costs[2] ? 0.0 : 2.0 * kExcessStep;
  constexpr double kMostExcess = 2.4;
  return std::min(kMostExcess, kExcessStep * (1.0 + bottom_of(costs[0], costs[1], costs[2], 2.0).steps));
}

double Better::errors() const noexcept {
  constexpr int kLeast = 6;
  if (count_ < kLeast) return 0.0;
  const double mean = sum_ / count_;
  const double variance = (squares_ - sum_ * mean) / (count_ - 1);
  return mean / std::sqrt(std::max(1e-30, variance / count_));
}

bool shows_grid(const Cut& cut) noexcept {
  constexpr double kMostAside = 0.25;
  return std::min(std::abs(cut.across[0]), std::abs(cut.across[1])) < kMostAside;
}

EdgeSmears edge_sharpness(const std::vector<Cut>& cuts, double least, Executor& executor) {
  const Fitted lens = fitted_to(cuts, least, false, {}, executor);
  EdgeSmears out{lens.smear, lens.smear, {}};
  if (lens.smear.sharp < 0.0) return out;
  const Fitted grid = fitted_to(cuts, least, true, lens.edges, executor);
  if (grid.smear.sharp < 0.0) return out;
  out.grid = grid.smear;
  for (std::size_t i = 0; i < cuts.size(); ++i) {
    if (lens.edges[i].sharp > 0.0 && grid.edges[i].sharp > 0.0 && shows_grid(cuts[i]))
      out.grid_better.add(lens.edges[i].misfit2 - grid.edges[i].misfit2);
  }
  return out;
}

double line_sharpness(std::vector<Cut> cuts, Executor& executor) {
  std::erase_if(cuts, [](const Cut& cut) { return !cut.usable; });
  if (cuts.empty()) return -1.0;
  constexpr double kChroma = 0.1;  // brightness tells sharpness best
  std::vector<double> costs(cuts.size());
  const auto cost_at = [&](double sharp) {
    executor.run(cuts.size(), [&](std::size_t i) {
      costs[i] = fit_cut(cuts[i], {sharp, 0.0, kChroma}).cost / static_cast<double>(cuts[i].at.size());
    });
    double sum = 0.0;
    for (const double cost : costs) sum += cost;
    return sum;
  };
  // The cleaner half, for in the others something else lies in the window; of these the wider half, for a
  // line narrower than the smear tells little about it.
  constexpr double kFirst = 0.85;
  cost_at(kFirst);
  const auto keep_best = [&](auto better) {
    std::vector<std::size_t> order(cuts.size());
    for (std::size_t i = 0; i < order.size(); ++i) order[i] = i;
    std::stable_sort(order.begin(), order.end(), better);
    order.resize((order.size() + 1) / 2);
    std::vector<Cut> kept;
    std::vector<double> kept_costs;
    for (const std::size_t i : order) {
      kept.push_back(cuts[i]);
      kept_costs.push_back(costs[i]);
    }
    cuts = std::move(kept);
    costs = std::move(kept_costs);
  };
  keep_best([&](std::size_t i, std::size_t j) { return costs[i] < costs[j]; });
  keep_best([&](std::size_t i, std::size_t j) { return cuts[i].width > cuts[j].width; });
  // Golden section over the logarithm.
  constexpr double kGolden = 0.6180339887498949;
  double low = std::log(0.4);
  double high = std::log(2.2);
  double x1 = high - kGolden * (high - low);
  double x2 = low + kGolden * (high - low);
  double f1 = cost_at(std::exp(x1));
  double f2 = cost_at(std::exp(x2));
  for (int step = 0; step < 9; ++step) {
    if (f1 < f2) {
      high = x2;
      x2 = x1;
      f2 = f1;
      x1 = high - kGolden * (high - low);
      f1 = cost_at(std::exp(x1));
    } else {
      low = x1;
      x1 = x2;
      f1 = f2;
      x2 = low + kGolden * (high - low);
      f2 = cost_at(std::exp(x2));
    }
  }
  return std::exp(0.5 * (low + high));
}

}  // namespace kithue::extract
