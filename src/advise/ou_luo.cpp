// SPDX-License-Identifier: MIT
#include "advise/ou_luo.h"

#include <cmath>
#include <numbers>

namespace kithue {
namespace {

double sine_of_degrees(double degrees) noexcept {
  return std::sin(degrees * std::numbers::pi / 180.0);
}

}  // namespace

OuLuoSide ou_luo_side(const Lab& lab) noexcept {
  const double C = chroma(lab);
  const double h = hue_degrees(lab);
  const double EC = 0.5 + 0.5 * std::tanh(-2.0 + 0.5 * C);
  const double HS = -0.08 - 0.14 * sine_of_degrees(h + 50.0) - 0.07 * sine_of_degrees(2.0 * h + 90.0);
  const double u = (90.0 - h) / 10.0;
  const double EY = (0.22 * lab.L - 12.8) / 10.0 * std::exp(u - std::exp(u));
  return {lab.L, C, h, EC * (HS + EY)};
}

OuLuoTerms ou_luo_terms(const Lab& x, const Lab& y) noexcept {
  return ou_luo_terms(ou_luo_side(x), ou_luo_side(y));
}

OuLuoTerms ou_luo_terms(const OuLuoSide& x, const OuLuoSide& y) noexcept {
  OuLuoTerms t;
  const double dC = (x.C - y.C) / 1.46;
  const double half_gap = sine_of_degrees(hue_gap_degrees(x.hue_degrees, y.hue_degrees) / 2.0);
  t.delta_C = std::sqrt(4.0 * x.C * y.C * half_gap * half_gap + dC * dC);
  t.HC = 0.04 + 0.53 * std::tanh(0.8 - 0.045 * t.delta_C);
  t.HL_sum = 0.28 + 0.54 * std::tanh(-3.88 + 0.029 * (x.L + y.L));
  t.H_dL = 0.14 + 0.15 * std::tanh(-2.0 + 0.2 * std::fabs(x.L - y.L));
  t.HSY1 = x.effect;
  t.HSY2 = y.effect;
  t.CH = t.HC + t.HL_sum + t.H_dL + t.HSY1 + t.HSY2;
  return t;
}

double ou_luo_harmony(const Lab& x, const Lab& y) noexcept {
  return ou_luo_terms(x, y).CH;
}

}  // namespace kithue
