// SPDX-License-Identifier: MIT
#include "colour/reflectance.h"

#include <algorithm>
#include <cmath>
#include <optional>
#include <utility>

namespace kithue {
namespace {

constexpr std::size_t N = kBands;
using Vector3 = std::array<double, 3>;

constexpr std::array<Vector3, N> kWeights{{
    {3.04093933e-05, 8.68579969e-07, 0.000143425799},  // 380
    {0.00014687201, 4.16480777e-06, 0.000694499258},   // 390
    {0.000699961356, 1.93980961e-05, 0.00332133837},   // 400
    {0.00253908063, 7.08423696e-05, 0.0121162706},     // 410
    {0.007928681, 0.000246915485, 0.0381701217},       // 420
    {0.0160104022, 0.00068743058, 0.0783225736},       // 430
    {0.0243024798, 0.00165972202, 0.12222138},         // 440
    {0.027420336, 0.00316877865, 0.144888709},         // 450
    {0.0247255407, 0.00520413066, 0.142000262},        // 460
    {0.0170873373, 0.00805578958, 0.112212604},        // 470
    {0.00877309309, 0.0125611635, 0.0736413018},       // 480
    {0.00301957523, 0.0186504437, 0.0419710944},       // 490
    {0.000606513466, 0.0298152839, 0.0251434058},      // 500
    {0.00115351964, 0.0464761525, 0.0147096163},       // 510
    {0.00619446661, 0.0656528016, 0.00755028064},      // 520
    {0.0160909772, 0.0827813225, 0.00412652879},       // 530
    {0.0280690898, 0.0915262838, 0.00201770701},       // 540
    {0.0421303749, 0.096221654, 0.000888399011},       // 550
    {0.0565890082, 0.0944642416, 0.000388782558},      // 560
    {0.0711330218, 0.0887372801, 0.000204526912},      // 570
    {0.0852669235, 0.0810766456, 0.000151869024},      // 580
    {0.0921240257, 0.0681912225, 0.000103763024},      // 590
    {0.0979387525, 0.058435075, 7.40128893e-05},       // 600
    {0.0940259968, 0.0474638166, 3.57918483e-05},      // 610
    {0.0798419799, 0.0358132425, 1.69386707e-05},      // 620
    {0.059232548, 0.0245386388, 5.29049007e-06},       // 630
    {0.0419757042, 0.0164584205, 1.86724035e-06},      // 640
    {0.026306843, 0.0099539868, 2.31482017e-07},       // 650
    {0.0156540578, 0.00580078308, 0},                  // 660
    {0.00871674081, 0.00319431566, 0},                 // 670
    {0.00446698767, 0.00162479685, 0},                 // 680
    {0.00201175441, 0.000727937704, 0},                // 690
    {0.00101074161, 0.000365058737, 0},                // 700
    {0.000517098269, 0.000186733645, 0},               // 710
    {0.000228909629, 8.26634519e-05, 0},               // 720
    {0.000227057145, 8.19944954e-05, 0},               // 730
}};

double product_with(const Vector3& x, const Vector3& y) noexcept {
  return x[0] * y[0] + x[1] * y[1] + x[2] * y[2];
}

/// The unknowns of the method: z with reflectance (tanh z + 1) / 2, and the three multipliers.
struct State {
  Curve z{};
  Vector3 multiplier{};
};

/// The four last rows of the system once the band matrix is eliminated: unknowns z[35] and the multipliers.
struct SmallSystem {
  std::array<std::array<double, 4>, 4> m{};
  std::array<double, 4> right{};
};

std::optional<std::array<double, 4>> solved(SmallSystem s) noexcept {
  for (std::size_t i = 0; i < 4; ++i) {
    std::size_t best = i;
    for (std::size_t k = i + 1; k < 4; ++k) {
      if (std::fabs(s.m[k][i]) > std::fabs(s.m[best][i])) best = k;
    }
    if (!(std::fabs(s.m[best][i]) > 1e-300)) return std::nullopt;
    std::swap(s.m[i], s.m[best]);
    std::swap(s.right[i], s.right[best]);
    for (std::size_t k = i + 1; k < 4; ++k) {
      const double f = s.m[k][i] / s.m[i][i];
      for (std::size_t j = i; j < 4; ++j) s.m[k][j] -= f * s.m[i][j];
      s.right[k] -= f * s.right[i];
    }
  }
  std::array<double, 4> x{};
  for (std::size_t i = 4; i-- > 0;) {
    double sum = s.right[i];
    for (std::size_t j = i + 1; j < 4; ++j) sum -= s.m[i][j] * x[j];
    x[i] = sum / s.m[i][i];
  }
  return x;
}

/// One Newton step; adds it to the state and returns the largest residual before it, or nothing when the
/// system cannot be solved. The matrix is a band with three rows and columns at its border: the band goes
/// first, and only its last row, where the plain second difference is singular, is pivoted.
std::optional<double> newton_step(State& state, const Vector3& target) noexcept {
  std::array<double, N> diagonal{};
  std::array<Vector3, N> column{};  // coefficients of the multipliers in row i
  std::array<double, N> right{};
  std::array<Vector3, N> row{};  // entries of the three border rows in column i
  Vector3 border = target;
  double worst = 0.0;
  for (std::size_t i = 0; i < N; ++i) {
    const double t = std::tanh(state.z[i]);
    const double slope = (1.0 - t * t) / 2.0;
    const double pull = product_with(kWeights[i], state.multiplier);
    const double left = i > 0 ? state.z[i] - state.z[i - 1] : 0.0;
    const double next = i + 1 < N ? state.z[i] - state.z[i + 1] : 0.0;
    const double F = 2.0 * left + 2.0 * next + slope * pull;
    worst = std::max(worst, std::fabs(F));
    right[i] = -F;
    diagonal[i] = (i == 0 || i + 1 == N ? 2.0 : 4.0) - 2.0 * slope * t * pull;
    for (std::size_t c = 0; c < 3; ++c) {
      column[i][c] = slope * kWeights[i][c];
      row[i][c] = column[i][c];
      border[c] -= kWeights[i][c] * (t + 1.0) / 2.0;
    }
  }
  for (const double gap : border) worst = std::max(worst, std::fabs(gap));
  std::array<Vector3, 3> corner{};
  for (std::size_t i = 0; i + 1 < N; ++i) {
    if (!(std::fabs(diagonal[i]) > 1e-300)) return std::nullopt;
    const double f = -2.0 / diagonal[i];
    diagonal[i + 1] -= f * -2.0;
    right[i + 1] -= f * right[i];
    for (std::size_t c = 0; c < 3; ++c) column[i + 1][c] -= f * column[i][c];
    for (std::size_t r = 0; r < 3; ++r) {
      const double g = row[i][r] / diagonal[i];
      row[i + 1][r] -= g * -2.0;
      border[r] -= g * right[i];
      for (std::size_t c = 0; c < 3; ++c) corner[r][c] -= g * column[i][c];
    }
  }
  SmallSystem small;
  small.m[0] = {diagonal[N - 1], column[N - 1][0], column[N - 1][1], column[N - 1][2]};
  small.right = {right[N - 1], border[0], border[1], border[2]};
  for (std::size_t r = 0; r < 3; ++r)
    small.m[r + 1] = {row[N - 1][r], corner[r][0], corner[r][1], corner[r][2]};
  const auto x = solved(small);
  if (!x) return std::nullopt;
  const Vector3 step{(*x)[1], (*x)[2], (*x)[3]};
  double z = (*x)[0];
  state.z[N - 1] += z;
  for (std::size_t i = N - 1; i-- > 0;) {
    z = (right[i] + 2.0 * z - product_with(column[i], step)) / diagonal[i];
    state.z[i] += z;
  }
  for (std::size_t c = 0; c < 3; ++c) state.multiplier[c] += step[c];
  return worst;
}

std::optional<Curve> smoothest(const Lab& lab) noexcept {
  const Xyz xyz = xyz_from_lab(lab, white_of_curves());
  const Vector3 target{xyz.X, xyz.Y, xyz.Z};
  if (!(std::min({xyz.X, xyz.Y, xyz.Z}) > 0.0)) return std::nullopt;
  State state;
  for (int step = 0; step < 60; ++step) {
    const auto worst = newton_step(state, target);
    if (!worst || !(*worst < 1e100)) return std::nullopt;
    if (*worst > 1e-11) continue;
    Curve curve{};
    for (std::size_t i = 0; i < N; ++i) {
      curve[i] = (std::tanh(state.z[i]) + 1.0) / 2.0;
      if (!(curve[i] > 0.0 && curve[i] < 1.0)) return std::nullopt;
    }
    return curve;
  }
  return std::nullopt;
}

}  // namespace

Xyz xyz_from_curve(const Curve& curve) noexcept {
  Xyz xyz;
  for (std::size_t i = 0; i < N; ++i) {
    xyz.X += kWeights[i][0] * curve[i];
    xyz.Y += kWeights[i][1] * curve[i];
    xyz.Z += kWeights[i][2] * curve[i];
  }
  return xyz;
}

const Xyz& white_of_curves() noexcept {
  static const Xyz kWhite = [] {
    Curve ones;
    ones.fill(1.0);
    return xyz_from_curve(ones);
  }();
  return kWhite;
}

Lab lab_from_curve(const Curve& curve) noexcept {
  return lab_from_xyz(xyz_from_curve(curve), white_of_curves());
}

Curve curve_from_lab(const Lab& lab) noexcept {
  const double L = std::clamp(lab.L, 0.01, 99.9);
  const auto shrunk = [&](double share) { return Lab{L, lab.a * share, lab.b * share}; };
  if (const auto curve = smoothest(shrunk(1.0))) return *curve;
  double low = 0.0;
  double high = 1.0;
  std::optional<Curve> best;
  for (int i = 0; i < 12; ++i) {
    const double middle = (low + high) / 2.0;
    if (auto curve = smoothest(shrunk(middle))) {
      best = *curve;
      low = middle;
    } else {
      high = middle;
    }
  }
  if (best) return *best;
  Curve grey;
  grey.fill(std::clamp(xyz_from_lab({L, 0.0, 0.0}, white_of_curves()).Y, 1e-6, 1.0 - 1e-6));
  return grey;
}

}  // namespace kithue
