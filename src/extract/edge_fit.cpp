// SPDX-License-Identifier: MIT
#include "extract/edge_fit.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <cstddef>

namespace kithue::extract {

double edge_cost(const Cut& cut, const Smear& smear, double& middle) {
  constexpr int kTurns = 6;
  constexpr double kStep = 0.05;     // pixels
  constexpr double kSettled = 0.01;  // pixels
  constexpr double kFarthest = 5.0;  // pixels
  const std::array<Light, 2> lights{cut.left, cut.right};
  const std::size_t signals = smear.trust_chroma > 0.0 ? 3 : 1;
  Band band(cut, smear);
  std::vector<Coded> model;
  std::vector<Coded> moved;
  double least = 1e300;
  double at = middle;
  for (int turn = 0; turn < kTurns; ++turn) {
    band.values(lights, std::array<double, 1>{at}, model);
    band.values(lights, std::array<double, 1>{at + kStep}, moved);
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

}  // namespace kithue::extract
