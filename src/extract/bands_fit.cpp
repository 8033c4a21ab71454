// SPDX-License-Identifier: MIT
#include "extract/bands_fit.h"

#include <algorithm>
#include <cmath>

#include "extract/solve.h"

namespace kithue::extract {
namespace {

constexpr double kNarrowest = 0.8;   // pixels a band
constexpr double kBesideBand = 3.0;  // pixels

template <std::size_t N>
class BandsModel {
 public:
  static constexpr std::size_t kLights = 3 * N;
  static constexpr std::size_t kFree = kLights + N + 1;
  using Guess = std::array<double, kFree>;  // the lights, then the edges
  using Equations = NormalEquations<kFree>;

  BandsModel(const Cut& cut, const Smear& smear, const Guess& seen) : band_(cut, smear), seen_(seen) {}

  /// The normal equations at `g`, what was seen included.
  Equations equations(const Guess& g) {
    std::array<Light, N> lights{};
    std::array<double, N + 1> edges{};
    for (std::size_t p = 0; p < kLights; ++p) lights[p / 3][p % 3] = g[p];
    std::copy_n(g.begin() + kLights, N + 1, edges.begin());
    Equations out = band_.bands_equations<N>(lights, edges);
    for (std::size_t p = 0; p < kLights; ++p) {
      const double away = seen_[p] - g[p];
      out.m[p][p] += kSeen;
      out.v[p] += kSeen * away;
      out.cost += kSeen * away * away;
    }
    return out;
  }
  /// A damped step downhill from `g`; false when the equations cannot be solved.
  static bool step(const Guess& g, const Equations& at, double damping, Guess& out) {
    auto m = at.m;
    Guess v = at.v;
    for (std::size_t p = 0; p < kFree; ++p) {
      const double own = p < kLights ? m[p][p] - kSeen : m[p][p];
      m[p][p] += damping * own + 1e-6;
    }
    if (!solve<kFree>(m, v)) return false;
    for (std::size_t p = 0; p < kLights; ++p)
      out[p] = std::clamp(g[p] + std::clamp(v[p], -0.2, 0.2), 0.0, 1.3);
    for (std::size_t p = kLights; p < kFree; ++p) out[p] = g[p] + std::clamp(v[p], -0.7, 0.7);
    for (std::size_t p = kLights + 1; p < kFree; ++p) out[p] = std::max(out[p], out[p - 1] + kNarrowest);
    return true;
  }
  /// How fast the cost grows with the light of one band when all else follows (Schur complement).
  static bool reduce(const Equations& at, std::size_t band, std::array<std::array<double, 3>, 3>& out) {
    constexpr std::size_t kOthers = kFree - 3;
    const std::size_t own = 3 * band;
    const auto other = [&](std::size_t i) { return i < own ? i : i + 3; };
    std::array<std::array<double, kOthers>, kOthers> m{};
    for (std::size_t i = 0; i < kOthers; ++i) {
      for (std::size_t j = 0; j < kOthers; ++j) m[i][j] = at.m[other(i)][other(j)];
      m[i][i] += 1e-9;
    }
    for (std::size_t p = 0; p < 3; ++p) {
      std::array<double, kOthers> follows{};
      for (std::size_t i = 0; i < kOthers; ++i) follows[i] = at.m[own + p][other(i)];
      if (!solve<kOthers>(m, follows)) return false;
      for (std::size_t q = 0; q < 3; ++q) {
        out[p][q] = at.m[own + p][own + q] - (p == q ? kSeen : 0.0);
        for (std::size_t i = 0; i < kOthers; ++i) out[p][q] -= follows[i] * at.m[own + q][other(i)];
      }
    }
    return true;
  }
  static BandsFit<N> fit_of(const Guess& g, const Equations& at) {
    BandsFit<N> out;
    std::copy_n(g.begin() + kLights, N + 1, out.edges.begin());
    for (std::size_t band = 0; band < N; ++band) {
      CutColour& one = out.bands[band];
      for (std::size_t p = 0; p < 3; ++p) one.light[p] = g[3 * band + p];
      one.found = band == 0 || band + 1 == N || reduce(at, band, one.information);
      one.cost = at.cost;
      one.weight = 3.0 * at.weight;
    }
    out.cost = at.cost;
    out.found = true;
    return out;
  }

 private:
  // Colour differences between narrow bands are weak: the lights stay near what was seen.
  static constexpr double kSeen = 3e-3;
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
  out.spread.clear();
  for (std::size_t k = 0; k < cut.at.size(); ++k) {
    if (cut.at[k] < from || cut.at[k] > to) continue;
    out.at.push_back(cut.at[k]);
    out.value.push_back(cut.value[k]);
    out.weight.push_back(cut.weight[k]);
    if (!cut.spread.empty()) out.spread.push_back(cut.spread[k]);
  }
  out.usable = out.at.size() > 6;
  return out;
}

/// Fits from bands with these edges; keeps the better.
template <std::size_t N>
void try_from(const Cut& cut, const Smear& smear, const std::array<double, N + 1>& edges, double most,
              BandsFit<N>& out) {
  using Model = BandsModel<N>;
  constexpr int kGiveUp = 5;  // rounds
  typename Model::Guess g{};
  for (std::size_t band = 0; band < N; ++band) {
    const Light light = light_near(cut, 0.5 * (edges[band] + edges[band + 1]));
    std::copy(light.begin(), light.end(), g.begin() + 3 * static_cast<std::ptrdiff_t>(band));
  }
  std::copy(edges.begin(), edges.end(), g.begin() + Model::kLights);
  Model model(cut, smear, g);
  typename Model::Equations here = model.equations(g);
  double damping = 0.01;
  for (int round = 0; round < 16 && damping < 1e3; ++round) {
    typename Model::Guess next = g;
    if (!Model::step(g, here, damping, next)) break;
    const typename Model::Equations then = model.equations(next);
    if (round >= kGiveUp && std::min(here.cost, then.cost) > most) return;
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
  out = Model::fit_of(g, here);
}

/// Where the one band lay.
struct Extent {
  double left, middle, right, half;
  explicit Extent(const Cut& cut) : middle(cut.middle), half(std::max(cut.width / 2, 1.5)) {
    left = middle - half;
    right = middle + half;
  }
};

bool fits_well(const Cut& cut, double cost) {
  constexpr double kBad = 0.009;  // root mean square of the misfit, of white
  double weight = 0.0;
  for (const double w : cut.weight) weight += 3.0 * w;
  return cost < kBad * kBad * weight;
}

}  // namespace

BandsFit<2> fit_pair(const Cut& cut, const Smear& smear, double most) {
  BandsFit<2> out;
  if (!cut.usable) return out;
  const Extent at(cut);
  for (const double where : {-0.35, 0.0, 0.35})
    try_from<2>(cut, smear, {at.left, at.middle + where * at.half, at.right}, most, out);
  if (out.found && fits_well(cut, out.cost)) return out;
  // Perhaps one band was fitted well, and what lies between it and a side is the other.
  try_from<2>(cut, smear, {at.left, at.right, at.right + kBesideBand}, most, out);
  try_from<2>(cut, smear, {at.left - kBesideBand, at.left, at.right}, most, out);
  return out;
}

BandsFit<3> fit_triple(const Cut& cut, const Smear& smear, double most) {
  BandsFit<3> out;
  if (!cut.usable) return out;
  const Extent at(cut);
  const double third = at.half / 3.0;
  try_from<3>(cut, smear, {at.left, at.middle - third, at.middle + third, at.right}, most, out);
  if (out.found && fits_well(cut, out.cost)) return out;
  // Perhaps the middle one was fitted, and the others lie beside it.
  try_from<3>(cut, smear, {at.left - kBesideBand, at.left, at.right, at.right + kBesideBand}, most, out);
  return out;
}

template <std::size_t N>
Cut cut_of_band(const Cut& cut, const BandsFit<N>& fit, std::size_t k) {
  const auto middle_of = [&](std::size_t band) { return 0.5 * (fit.edges[band] + fit.edges[band + 1]); };
  Cut out = part_of(cut, k == 0 ? -1e9 : middle_of(k - 1), k + 1 == N ? 1e9 : middle_of(k + 1));
  if (k > 0) out.left = fit.bands[k - 1].light;
  if (k + 1 < N) out.right = fit.bands[k + 1].light;
  out.middle = middle_of(k);
  out.width = fit.edges[k + 1] - fit.edges[k];
  return out;
}

template Cut cut_of_band(const Cut& cut, const BandsFit<2>& fit, std::size_t k);
template Cut cut_of_band(const Cut& cut, const BandsFit<3>& fit, std::size_t k);

}  // namespace kithue::extract
