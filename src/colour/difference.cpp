// SPDX-License-Identifier: MIT
#include "colour/difference.h"

#include <algorithm>
#include <cmath>
#include <limits>
#include <numbers>

namespace kithue {
namespace {

double radians(double degrees) noexcept {
  return degrees * std::numbers::pi / 180.0;
}
double squared(double value) noexcept {
  return value * value;
}

/// C^7 / (C^7 + 25^7), written so that neither a zero nor a huge chroma leaves the number range.
double seventh_power_ratio(double C) noexcept {
  const double ratio = 25.0 / C;
  const double cube = ratio * ratio * ratio;
  return 1.0 / (1.0 + cube * cube * ratio);
}

double hue_prime(double a_prime, double b) noexcept {
  if (a_prime == 0.0 && b == 0.0) return 0.0;
  const double degrees = std::atan2(b, a_prime) * 180.0 / std::numbers::pi;
  return degrees < 0.0 ? degrees + 360.0 : degrees;
}

// Hues that are opposite on paper may come out of atan2 a few 1e-14 either side of 180 degrees; the
// formula jumps there (pair 14 of the paper), so anything this close counts as exactly opposite.
constexpr double kOpposite = 180.0 + 1e-9;
// In the same way mirrored hues (30 and 330 degrees) have the mean hue 0, not one just short of 360, where
// the rotation term is another.
constexpr double kFullTurn = 360.0 - 1e-9;

double hue_step(double h1, double h2, bool neutral) noexcept {
  if (neutral) return 0.0;
  const double step = h2 - h1;
  if (std::fabs(step) <= kOpposite) return step;
  return step > 0.0 ? step - 360.0 : step + 360.0;
}

double mean_hue(double h1, double h2, bool neutral) noexcept {
  const double sum = h1 + h2;
  if (neutral) return sum;
  if (std::fabs(h1 - h2) <= kOpposite) return sum / 2.0;
  return sum < kFullTurn ? (sum + 360.0) / 2.0 : std::max(0.0, (sum - 360.0) / 2.0);
}

Lab bounded(const Lab& lab) noexcept {
  constexpr double kMost = 1e30;  // squares and products of this stay finite
  return {std::clamp(lab.L, -kMost, kMost), std::clamp(lab.a, -kMost, kMost),
          std::clamp(lab.b, -kMost, kMost)};
}

}  // namespace

DifferenceTerms ciede2000_terms(const Lab& x, const Lab& y) noexcept {
  const Lab first = bounded(x);
  const Lab second = bounded(y);
  DifferenceTerms t;

  const double mean_C = (chroma(first) + chroma(second)) / 2.0;
  t.G = 0.5 * (1.0 - std::sqrt(seventh_power_ratio(mean_C)));
  t.a1_prime = (1.0 + t.G) * first.a;
  t.a2_prime = (1.0 + t.G) * second.a;
  t.C1_prime = std::hypot(t.a1_prime, first.b);
  t.C2_prime = std::hypot(t.a2_prime, second.b);
  t.h1_degrees = hue_prime(t.a1_prime, first.b);
  t.h2_degrees = hue_prime(t.a2_prime, second.b);

  // The paper tests the product; a chroma so small that the product underflows is neutral as well.
  const bool neutral = t.C1_prime * t.C2_prime == 0.0;
  const double step = hue_step(t.h1_degrees, t.h2_degrees, neutral);
  t.mean_degrees = mean_hue(t.h1_degrees, t.h2_degrees, neutral);
  const double mean_L = (first.L + second.L) / 2.0;
  const double mean_C_prime = (t.C1_prime + t.C2_prime) / 2.0;
  const double h = t.mean_degrees;
  t.T = 1.0 - 0.17 * std::cos(radians(h - 30.0)) + 0.24 * std::cos(radians(2.0 * h)) +
        0.32 * std::cos(radians(3.0 * h + 6.0)) - 0.20 * std::cos(radians(4.0 * h - 63.0));
  t.SL = 1.0 + 0.015 * squared(mean_L - 50.0) / std::sqrt(20.0 + squared(mean_L - 50.0));
  t.SC = 1.0 + 0.045 * mean_C_prime;
  t.SH = 1.0 + 0.015 * mean_C_prime * t.T;
  const double turn_degrees = 30.0 * std::exp(-squared((h - 275.0) / 25.0));
  t.RT = -2.0 * std::sqrt(seventh_power_ratio(mean_C_prime)) * std::sin(radians(2.0 * turn_degrees));

  const double dH = 2.0 * std::sqrt(t.C1_prime) * std::sqrt(t.C2_prime) * std::sin(radians(step) / 2.0);
  t.lightness = (second.L - first.L) / t.SL;
  t.chroma = (t.C2_prime - t.C1_prime) / t.SC;
  t.hue = dH / t.SH;
  const double sum = squared(t.lightness) + squared(t.chroma) + squared(t.hue) + t.RT * t.chroma * t.hue;
  t.de00 = sum < 0.0 ? 0.0 : std::sqrt(sum);  // rounding may leave a sum just under zero
  return t;
}

double ciede2000(const Lab& x, const Lab& y) noexcept {
  const bool finite = std::isfinite(x.L) && std::isfinite(x.a) && std::isfinite(x.b) && std::isfinite(y.L) &&
                      std::isfinite(y.a) && std::isfinite(y.b);
  if (!finite) return std::numeric_limits<double>::quiet_NaN();
  return ciede2000_terms(x, y).de00;
}

}  // namespace kithue
