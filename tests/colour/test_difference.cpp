// SPDX-License-Identifier: MIT
#include <doctest/doctest.h>
#include <lcms2.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <limits>

#include "colour/difference.h"
#include "colour/random_colours.h"
#include "colour/sharma_table.h"

using namespace kithue;
using test::kSharmaTable;
using test::RandomColours;
using test::SharmaRow;

namespace {

constexpr int kMillion = 1'000'000;

double by_lcms(const Lab& x, const Lab& y) {
  const cmsCIELab first{x.L, x.a, x.b};
  const cmsCIELab second{y.L, y.a, y.b};
  return cmsCIE2000DeltaE(&first, &second, 1.0, 1.0, 1.0);
}

bool within(double value, double expected, double bound) {
  return std::fabs(value - expected) <= bound;
}

/// How far the two hues are from being exactly opposite, in degrees.
double from_opposite(const Lab& x, const Lab& y) {
  const DifferenceTerms t = ciede2000_terms(x, y);
  return std::fabs(std::fabs(t.h1_degrees - t.h2_degrees) - 180.0);
}

}  // namespace

TEST_CASE("ciede2000: the 34 published pairs, in both directions") {
  CHECK(std::size(kSharmaTable) == 34);
  for (const SharmaRow& row : kSharmaTable) {
    CAPTURE(row.pair);
    CHECK(within(ciede2000(row.x, row.y), row.de00, 0.00005));
    CHECK(within(ciede2000(row.y, row.x), row.de00, 0.00005));
    CHECK(ciede2000(row.x, row.y) == ciede2000(row.y, row.x));
  }
}

TEST_CASE("ciede2000_terms: the mean hue of the 34 published pairs") {
  // 0.001 degree: the digits of the pairs are rounded, which moves two rows by up to 0.0006.
  for (const SharmaRow& row : kSharmaTable) {
    CAPTURE(row.pair);
    CHECK(within(ciede2000_terms(row.x, row.y).mean_degrees, row.mean_degrees, 0.001));
    CHECK(within(ciede2000_terms(row.y, row.x).mean_degrees, row.mean_degrees, 0.001));
  }
}

TEST_CASE("ciede2000_terms: every term of the 34 pairs, to the last digit of the table") {
  for (const SharmaRow& row : kSharmaTable) {
    CAPTURE(row.pair);
    const DifferenceTerms t = ciede2000_terms(row.x, row.y);
    CHECK(within(t.a1_prime, row.a1_prime, 0.00005));
    CHECK(within(t.a2_prime, row.a2_prime, 0.00005));
    CHECK(within(t.C1_prime, row.C1_prime, 0.00005));
    CHECK(within(t.C2_prime, row.C2_prime, 0.00005));
    CHECK(within(t.h1_degrees, row.h1_degrees, 0.00005));
    CHECK(within(t.h2_degrees, row.h2_degrees, 0.00005));
    CHECK(within(t.G, row.G, 0.00005));
    CHECK(within(t.T, row.T, 0.00005));
    CHECK(within(t.SL, row.SL, 0.00005));
    CHECK(within(t.SC, row.SC, 0.00005));
    CHECK(within(t.SH, row.SH, 0.00005));
    CHECK(within(t.RT, row.RT, 0.00005));
    CHECK(t.de00 == ciede2000(row.x, row.y));
  }
}

TEST_CASE("ciede2000: a million random pairs agree with Little CMS") {
  RandomColours random(2005);
  double worst = 0.0;
  for (int i = 0; i < kMillion; ++i) {
    const auto [x, y] = random.pair(i);
    worst = std::max(worst, std::fabs(ciede2000(x, y) - by_lcms(x, y)));
  }
  CHECK(worst <= 1e-9);
}

TEST_CASE(
    "ciede2000_terms: the mean hue of random pairs lies midway on the short arc, in the paper's branch") {
  // Equation 14 of the paper, said in another way: the mean is the sum's half, turned by 180 degrees when
  // the hues are more than 180 apart, on the side that keeps it within 0 to 360.
  RandomColours random(14);
  double worst_midway = 0.0;
  for (int i = 0; i < 100'000; ++i) {
    const auto [x, y] = random.pair(i);
    if (from_opposite(x, y) < 1e-6) continue;
    const DifferenceTerms t = ciede2000_terms(x, y);
    CHECK(t.mean_degrees >= 0.0);
    CHECK(t.mean_degrees < 360.0);
    const double gap1 = hue_gap_degrees(t.mean_degrees, t.h1_degrees);
    const double gap2 = hue_gap_degrees(t.mean_degrees, t.h2_degrees);
    worst_midway = std::max({worst_midway, std::fabs(gap1 - gap2), gap1 - 90.0});
  }
  CHECK(worst_midway < 1e-9);
}

TEST_CASE("ciede2000: hues near opposite agree with Little CMS outside the width of its own tolerance") {
  // Little CMS counts hues up to 1e-6 degree past 180 as opposite, we 1e-9.
  RandomColours random(180);
  double worst = 0.0;
  int compared = 0;
  for (int i = 0; i < 100'000; ++i) {
    const double hue = random.between(0, 360);
    const double off = std::pow(10.0, random.between(-5, 1)) * (i % 2 == 0 ? 1.0 : -1.0);
    const Lab x = random.polar(random.between(1, 100), hue);
    // 180 apart in the primed plane, where a* is stretched: take the opposite of x and turn it.
    const double shrink = random.between(0.2, 2.0);
    const Lab opposite{random.between(0, 100), -x.a * shrink, -x.b * shrink};
    const Lab y = lab_from_lch({opposite.L, chroma(opposite), hue_degrees(opposite) + off});
    if (from_opposite(x, y) < 2e-6) continue;
    ++compared;
    worst = std::max(worst, std::fabs(ciede2000(x, y) - by_lcms(x, y)));
  }
  CHECK(compared > 90'000);
  CHECK(worst <= 1e-9);
}

TEST_CASE("ciede2000: exactly opposite hues count as opposite whichever way atan2 rounds") {
  RandomColours random(1180);
  for (int i = 0; i < 100'000; ++i) {
    const Lab x = random.polar(random.between(0.01, 100), random.between(0, 360));
    const Lab y{random.between(0, 100), -x.a, -x.b};
    const DifferenceTerms t = ciede2000_terms(x, y);
    CHECK(within(t.mean_degrees, (t.h1_degrees + t.h2_degrees) / 2.0, 1e-9));
    CHECK(ciede2000(x, y) == ciede2000(y, x));
  }
}

TEST_CASE("ciede2000_terms: mirrored hues have the mean hue 0 whichever way atan2 rounds") {
  // Just short of 360 the rotation term is another: 275 degrees from its centre or 85.
  RandomColours random(330);
  for (int i = 0; i < 100'000; ++i) {
    const Lab x = random.polar(random.between(0.01, 100), random.between(0, 89));
    const double shrink = random.between(0.2, 2.0);
    CHECK(ciede2000_terms(x, {50, x.a * shrink, -x.b * shrink}).mean_degrees < 1e-9);
    CHECK(ciede2000_terms({50, x.a * shrink, -x.b * shrink}, x).mean_degrees < 1e-9);
  }
}

TEST_CASE("ciede2000: a colour against itself is exactly 0") {
  RandomColours random(1);
  bool all = true;
  for (int i = 0; i < kMillion; ++i) {
    const Lab x = random.pair(i).x;
    all = all && ciede2000(x, x) == 0.0;
  }
  CHECK(all);
}

TEST_CASE("ciede2000: swapping the colours gives the same bits") {
  RandomColours random(2);
  bool all = true;
  for (int i = 0; i < 2 * kMillion; ++i) {
    const auto [x, y] = random.pair(i);
    const double there = ciede2000(x, y);
    all = all && there == ciede2000(y, x) && there >= 0.0;
  }
  CHECK(all);
}

TEST_CASE("ciede2000: a NaN or an infinity in any coordinate gives NaN") {
  const double nan = std::numeric_limits<double>::quiet_NaN();
  const double infinity = std::numeric_limits<double>::infinity();
  for (const double odd : {nan, -nan, infinity, -infinity}) {
    for (std::size_t i = 0; i < 6; ++i) {
      std::array<double, 6> v{50, 20, -30, 60, 0, 0};
      v[i] = odd;
      CAPTURE(i);
      CHECK(std::isnan(ciede2000({v[0], v[1], v[2]}, {v[3], v[4], v[5]})));
    }
    CHECK(std::isnan(ciede2000({odd, odd, odd}, {odd, odd, odd})));
  }
}

TEST_CASE("ciede2000: finite colours never give NaN or an infinity, however absurd") {
  using Limits = std::numeric_limits<double>;
  constexpr std::array<double, 11> kOdd{
      0.0,   -0.0,   Limits::denorm_min(), -Limits::denorm_min(), Limits::min(), 1e-160, -50.0, 100.0,
      1e154, -1e308, Limits::max()};
  bool all = true;
  std::array<std::size_t, 6> at{};
  for (bool more = true; more;) {
    const double difference =
        ciede2000({kOdd[at[0]], kOdd[at[1]], kOdd[at[2]]}, {kOdd[at[3]], kOdd[at[4]], kOdd[at[5]]});
    all = all && std::isfinite(difference) && difference >= 0.0;
    more = false;
    for (std::size_t& index : at) {
      if (++index < kOdd.size()) {
        more = true;
        break;
      }
      index = 0;
    }
  }
  CHECK(all);
}

TEST_CASE("ciede2000: the sign of a zero changes nothing") {
  CHECK(ciede2000({50, 0.0, 0.0}, {60, 10, 5}) == ciede2000({50, -0.0, -0.0}, {60, 10, 5}));
  CHECK(ciede2000({50, 10, 0.0}, {60, 10, 5}) == ciede2000({50, 10, -0.0}, {60, 10, 5}));
  CHECK(ciede2000({50, -10, 0.0}, {60, -10, 5}) == ciede2000({50, -10, -0.0}, {60, -10, 5}));
  CHECK(ciede2000({50, -10, 0.0}, {60, -10, -5}) == ciede2000({50, -10, -0.0}, {60, -10, -5}));
}

TEST_CASE("ciede2000_terms: signs tell which way the second colour goes") {
  CHECK(ciede2000_terms({50, 10, 10}, {60, 10, 10}).lightness > 0.0);
  CHECK(ciede2000_terms({50, 10, 10}, {50, 20, 20}).chroma > 0.0);
  CHECK(ciede2000_terms({50, 20, 0}, {50, 20, 5}).hue > 0.0);
  CHECK(ciede2000_terms({50, 20, 5}, {50, 20, -5}).hue < 0.0);  // across the wrap at 0
}
