// SPDX-License-Identifier: MIT
#include "extract/sharpness.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <cstddef>
#include <numeric>

#include "extract/band.h"
#include "extract/line_fit.h"

namespace kithue::extract {

double edge_sharpness(std::vector<Cut>& cuts) {
  constexpr double kLeast = 0.33;
  constexpr double kGrow = 1.09;
  constexpr double kMisfit = 0.035;  // root mean square, of the step: plain edges leave 0.01 to 0.025
  constexpr double kNoise = 0.004;
  std::vector<double> found;
  for (Cut& cut : cuts) {
    if (!cut.usable) continue;
    const double step = std::abs(coded_of(cut.left)[0] - coded_of(cut.right)[0]);
    const double weight = std::accumulate(cut.weight.begin(), cut.weight.end(), 0.0);
    const double worst = (kMisfit * step + kNoise) * (kMisfit * step + kNoise) * weight;
    std::vector<double> costs;
    double middle = 0.0;
    const std::array<Light, 2> lights{cut.left, cut.right};
    std::array<double, 1> edge{};
    std::vector<Coded> model;
    std::vector<Coded> moved;
    for (double sharp = kLeast; sharp < 2.8; sharp *= kGrow) {
      Band band(cut, {sharp, 1.0, 0.0});
      // The middle by a few Newton steps on brightness alone.
      double cost = 0.0;
      for (int turn = 0; turn < 4; ++turn) {
        edge[0] = middle;
        band.values(lights, edge, model);
        edge[0] = middle + 0.05;
        band.values(lights, edge, moved);
        double up = 0.0;
        double down = 1e-12;
        cost = 0.0;
        for (std::size_t k = 0; k < model.size(); ++k) {
          const double left = cut.value[k][0] - model[k][0];
          const double slope = (moved[k][0] - model[k][0]) / 0.05;
          up += cut.weight[k] * slope * left;
          down += cut.weight[k] * slope * slope;
          cost += cut.weight[k] * left * left;
        }
        middle = std::clamp(middle + std::clamp(up / down, -1.0, 1.0), -5.0, 5.0);
      }
      costs.push_back(cost);
    }
    const auto least = static_cast<std::size_t>(std::min_element(costs.begin(), costs.end()) - costs.begin());
    if (least == 0 || least + 1 == costs.size() || costs[least] > worst) continue;
    // The bottom of the parabola through the best three.
    const double low = costs[least - 1] - costs[least];
    const double high = costs[least + 1] - costs[least];
    const double shift = 0.5 * (low - high) / std::max(1e-15, low + high);
    found.push_back(kLeast * std::pow(kGrow, static_cast<double>(least) + shift));
  }
  return found.size() < 8 ? -1.0 : median_of(found);
}

double line_sharpness(std::vector<Cut> cuts, double chroma2, Executor& executor) {
  std::erase_if(cuts, [](const Cut& cut) { return !cut.usable; });
  if (cuts.empty()) return -1.0;
  constexpr double kChroma = 0.1;  // brightness tells sharpness best
  std::vector<double> costs(cuts.size());
  const auto cost_at = [&](double sharp) {
    executor.run(cuts.size(), [&](std::size_t i) {
      costs[i] = fit_cut(cuts[i], {sharp, kChroma, chroma2}).cost / static_cast<double>(cuts[i].at.size());
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
