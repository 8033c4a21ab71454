// SPDX-License-Identifier: MIT
#include "extract/edge_fit.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <cstddef>
#include <span>
#include <vector>

namespace kithue::extract {

namespace {

/// The least cost of a way from one side to the other over these lights, with steps at these distances from
/// its middle.
double way_cost(const Cut& cut, const Smear& smear, std::span<const Light> lights,
                std::span<const double> steps, double& middle) {
  constexpr int kTurns = 6;
  constexpr double kStep = 0.05;     // pixels
  constexpr double kSettled = 0.01;  // pixels
  constexpr double kFarthest = 5.0;  // pixels
  const std::size_t signals = smear.trust_chroma > 0.0 ? 3 : 1;
  Band band(cut, smear);
  std::vector<double> edges(steps.size());
  const auto values_at = [&](double at, std::vector<Coded>& out) {
    std::transform(steps.begin(), steps.end(), edges.begin(), [&](double step) { return at + step; });
    band.values(lights, edges, out);
  };
  std::vector<Coded> model;
  std::vector<Coded> moved;
  double least = 1e300;
  double at = middle;
  for (int turn = 0; turn < kTurns; ++turn) {
    values_at(at, model);
    values_at(at + kStep, moved);
    double up = 0.0;
    double down = 1e-12;
    double cost = 0.0;
    for (std::size_t k = 0; k < model.size(); ++k) {
      for (std::size_t c = 0; c < signals; ++c) {
        const double weight = cut.weight[k] * (c == 0 ? 1.0 : smear.trust_chroma);
        const double left = cut.value[k][c] - model[k][c];
        const double slope = (moved[k][c] - model[k][c]) / kStep;
        up += weight * slope * left;
        down += weight * slope * slope;
        cost += weight * left * left;
      }
    }
    if (cost < least) {
      least = cost;
      middle = at;
    }
    const double step = std::clamp(up / down, -1.0, 1.0);
    if (std::abs(step) < kSettled) break;
    at = std::clamp(at + step, -kFarthest, kFarthest);
  }
  return least;
}

}  // namespace

double edge_cost(const Cut& cut, const Smear& smear, double& middle) {
  return way_cost(cut, smear, std::array{cut.left, cut.right}, std::array{0.0}, middle);
}

bool may_be_soft_edge(const Cut& cut) {
  constexpr double kOutside = 0.02;  // of white
  const double left = coded_of(cut.left)[0];
  const double right = coded_of(cut.right)[0];
  const double low = std::min(left, right) - kOutside;
  const double high = std::max(left, right) + kOutside;
  return std::all_of(cut.value.begin(), cut.value.end(),
                     [&](const Coded& value) { return value[0] > low && value[0] < high; });
}

double soft_edge_cost(const Cut& cut, const Smear& smear) {
  constexpr double kLeastBroad = 3.0;  // pixels
  constexpr double kMostBroad = 80.0;
  constexpr double kCoarse = 1.6;
  constexpr double kOfStep = 0.25 * 0.2887;  // the standard deviation of an even spread over a step, of broad
  std::array<Light, 5> lights{};
  for (std::size_t i = 0; i < lights.size(); ++i) {
    for (std::size_t c = 0; c < 3; ++c)
      lights[i][c] = cut.left[c] + 0.25 * static_cast<double>(i) * (cut.right[c] - cut.left[c]);
  }
  double middle = 0.0;
  double least = 1e300;
  double best = kLeastBroad;
  const auto try_broad = [&](double broad) {
    const std::array<double, 4> steps{-0.375 * broad, -0.125 * broad, 0.125 * broad, 0.375 * broad};
    Smear even = smear;
    even.sharp = std::hypot(smear.sharp, kOfStep * broad);
    const double cost = way_cost(cut, even, lights, steps, middle);
    if (cost >= least) return;
    least = cost;
    best = broad;
  };
  for (double broad = kLeastBroad; broad < kMostBroad; broad *= kCoarse) try_broad(broad);
  for (const double fine : {1.25, 1.12}) {
    const double near = best;
    try_broad(near / fine);
    try_broad(near * fine);
  }
  return least;
}

}  // namespace kithue::extract
