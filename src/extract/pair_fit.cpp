// SPDX-License-Identifier: MIT
#include "extract/pair_fit.h"

#include <algorithm>
#include <cmath>
#include <cstddef>

#include "extract/solve.h"

namespace kithue::extract {
namespace {

/// Two lights and three edges.
using Guess = std::array<double, 9>;

constexpr double kNarrowest = 0.8;  // pixels a band
constexpr double kSeen = 3e-3;  // colour differences between narrow bands are weak: stay near what was seen

class PairModel {
 public:
  PairModel(const Cut& cut, const Smear& smear, const Guess& seen) : band_(cut, smear), seen_(seen) {}

  /// The normal equations at `g`, what was seen included.
  NormalEquations<9> equations(const Guess& g) {
    NormalEquations<9> out = band_.pair_equations({g[0], g[1], g[2]}, {g[3], g[4], g[5]}, {g[6], g[7], g[8]});
    for (std::size_t p = 0; p < 6; ++p) {
      const double away = seen_[p] - g[p];
      out.m[p][p] += kSeen;
      out.v[p] += kSeen * away;
      out.cost += kSeen * away * away;
    }
    return out;
  }
  /// A damped step downhill from `g`; false when the equations cannot be solved.
  static bool step(const Guess& g, const NormalEquations<9>& at, double damping, Guess& out) {
    auto m = at.m;
    Guess v = at.v;
    for (std::size_t p = 0; p < g.size(); ++p) {
      const double own = p < 6 ? m[p][p] - kSeen : m[p][p];
      m[p][p] += damping * own + 1e-6;
    }
    if (!solve<9>(m, v)) return false;
    for (std::size_t p = 0; p < 6; ++p) out[p] = std::clamp(g[p] + std::clamp(v[p], -0.2, 0.2), 0.0, 1.3);
    for (std::size_t p = 6; p < 9; ++p) out[p] = g[p] + std::clamp(v[p], -0.7, 0.7);
    out[7] = std::max(out[7], out[6] + kNarrowest);
    out[8] = std::max(out[8], out[7] + kNarrowest);
    return true;
  }

 private:
  Band band_;
  Guess seen_;
};

Light light_near(const Cut& cut, double at) {
  std::size_t best = 0;
  for (std::size_t k = 1; k < cut.at.size(); ++k) {
    if (std::abs(cut.at[k] - at) < std::abs(cut.at[best] - at)) best = k;
  }
  return light_of(cut.value[best]);
}

Cut part_of(const Cut& cut, double from, double to) {
  Cut out = cut;
  out.at.clear();
  out.value.clear();
  out.weight.clear();
  for (std::size_t k = 0; k < cut.at.size(); ++k) {
    if (cut.at[k] < from || cut.at[k] > to) continue;
    out.at.push_back(cut.at[k]);
    out.value.push_back(cut.value[k]);
    out.weight.push_back(cut.weight[k]);
  }
  out.usable = out.at.size() > 6;
  return out;
}

/// Fits from two bands with these edges; keeps the better. Gives up what after some rounds still costs more
/// than one band.
void try_from(const Cut& cut, const Smear& smear, const std::array<double, 3>& edges, double one_band,
              PairFit& out) {
  constexpr int kGiveUp = 5;  // rounds
  const Light a = light_near(cut, 0.5 * (edges[0] + edges[1]));
  const Light b = light_near(cut, 0.5 * (edges[1] + edges[2]));
  Guess g{a[0], a[1], a[2], b[0], b[1], b[2], edges[0], edges[1], edges[2]};
  PairModel model(cut, smear, g);
  NormalEquations<9> here = model.equations(g);
  double damping = 0.01;
  for (int round = 0; round < 16 && damping < 1e3; ++round) {
    Guess next = g;
    if (!PairModel::step(g, here, damping, next)) break;
    const NormalEquations<9> then = model.equations(next);
    if (round >= kGiveUp && std::min(here.cost, then.cost) > one_band) return;
    if (then.cost >= here.cost) {
      damping = damping * 6.0 + 1e-3;
      continue;
    }
    const bool settled = here.cost - then.cost < 1e-3 * here.cost;
    g = next;
    here = then;
    damping *= 0.3;
    if (settled) break;
  }
  if (out.found && here.cost >= out.cost) return;
  out = {{g[0], g[1], g[2]}, {g[3], g[4], g[5]}, {g[6], g[7], g[8]}, here.cost, true};
}

}  // namespace

PairFit fit_pair(const Cut& cut, const Smear& smear, double one_band) {
  constexpr double kBad = 0.009;   // root mean square of the misfit, of white
  constexpr double kBeside = 3.0;  // pixels
  PairFit out;
  if (!cut.usable) return out;
  const double half = std::max(cut.width / 2, 1.5);
  const double left = cut.middle - half;
  const double right = cut.middle + half;
  for (const double where : {-0.35, 0.0, 0.35})
    try_from(cut, smear, {left, cut.middle + where * half, right}, one_band, out);
  double weight = 0.0;
  for (const double w : cut.weight) weight += 3.0 * w;
  if (out.found && out.cost < kBad * kBad * weight) return out;
  // Perhaps one band was fitted well, and what lies between it and a side is the other.
  try_from(cut, smear, {left, right, right + kBeside}, one_band, out);
  try_from(cut, smear, {left - kBeside, left, right}, one_band, out);
  return out;
}

Cut first_half(const Cut& cut, const PairFit& pair) {
  Cut out = part_of(cut, -1e9, 0.5 * (pair.edges[1] + pair.edges[2]));
  out.right = pair.second;
  out.middle = 0.5 * (pair.edges[0] + pair.edges[1]);
  out.width = pair.edges[1] - pair.edges[0];
  return out;
}

Cut second_half(const Cut& cut, const PairFit& pair) {
  Cut out = part_of(cut, 0.5 * (pair.edges[0] + pair.edges[1]), 1e9);
  out.left = pair.first;
  out.middle = 0.5 * (pair.edges[1] + pair.edges[2]);
  out.width = pair.edges[2] - pair.edges[1];
  return out;
}

}  // namespace kithue::extract
