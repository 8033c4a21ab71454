// SPDX-License-Identifier: MIT
#include <doctest/doctest.h>
#include <lcms2.h>

#include <algorithm>
#include <cmath>
#include <limits>

#include "colour/distance.h"
#include "colour/lab.h"
#include "colour/random_colours.h"

using namespace kithue;
using kithue_test::distance;
using test::RandomColours;

namespace {

constexpr Xyz kD65{0.95047, 1.0, 1.08883};

Lab by_lcms(const Xyz& xyz, const Xyz& white) {
  const cmsCIEXYZ from{xyz.X, xyz.Y, xyz.Z};
  const cmsCIEXYZ of{white.X, white.Y, white.Z};
  cmsCIELab out{};
  cmsXYZ2Lab(&of, &out, &from);
  return {out.L, out.a, out.b};
}

}  // namespace

TEST_CASE("lab_from_xyz: the white is 100, 0, 0 exactly and no light is 0, 0, 0") {
  for (const Xyz& white : {kD50, kD65}) {
    CHECK(lab_from_xyz(white, white) == Lab{100, 0, 0});
    CHECK(distance(lab_from_xyz({0, 0, 0}, white), {0, 0, 0}) < 1e-14);
  }
}

TEST_CASE("lab_from_xyz: agrees with Little CMS from the blackest black up, for two whites") {
  RandomColours random(1976);
  double worst = 0.0;
  for (int i = 0; i < 200'000; ++i) {
    const Xyz& white = i % 2 == 0 ? kD50 : kD65;
    const double most = i % 3 == 0 ? 0.02 : 1.2;  // a third lies about the join at Y = 0.008856
    const Xyz xyz{random.between(0, most), random.between(0, most), random.between(0, most)};
    worst = std::max(worst, distance(lab_from_xyz(xyz, white), by_lcms(xyz, white)));
  }
  CHECK(worst < 1e-10);
}

TEST_CASE("lab_from_xyz: the two branches meet at L* = 8") {
  // ISO/CIE 11664-4: the branches change at (6/29)^3 = 216/24389, which is L* = 8.
  constexpr double kJoin = 216.0 / 24389.0;
  CHECK(std::fabs(lab_from_xyz({kD50.X, kJoin, kD50.Z}).L - 8.0) < 1e-12);
  CHECK(std::fabs(lab_from_xyz({kD50.X, std::nextafter(kJoin, 1.0), kD50.Z}).L - 8.0) < 1e-12);
  // and below it L* is 903.3 (24389/27) times Y.
  CHECK(std::fabs(lab_from_xyz({0, 0.001, 0}).L - 24389.0 / 27000.0) < 1e-12);
}

TEST_CASE("xyz_from_lab: undoes lab_from_xyz, inside every gamut and outside") {
  RandomColours random(3);
  double worst = 0.0;
  for (int i = 0; i < 200'000; ++i) {
    const Lab lab = random.pair(i).x;
    const Xyz& white = i % 2 == 0 ? kD50 : kD65;
    worst = std::max(worst, distance(lab_from_xyz(xyz_from_lab(lab, white), white), lab));
  }
  CHECK(worst < 1e-10);
}

TEST_CASE("lch_from_lab: there and back, with the hue in 0 up to 360") {
  RandomColours random(4);
  double worst = 0.0;
  bool in_range = true;
  for (int i = 0; i < 200'000; ++i) {
    const Lab lab = random.pair(i).x;
    const Lch lch = lch_from_lab(lab);
    in_range = in_range && lch.hue_degrees >= 0.0 && lch.hue_degrees < 360.0 && lch.C >= 0.0;
    worst = std::max(worst, distance(lab_from_lch(lch), lab));
  }
  CHECK(in_range);
  CHECK(worst < 1e-11);
}

TEST_CASE("hue_degrees: the four axes, neutrals and the last step before 360") {
  CHECK(hue_degrees({50, 10, 0}) == 0.0);
  CHECK(hue_degrees({50, 0, 10}) == 90.0);
  CHECK(hue_degrees({50, -10, 0}) == 180.0);
  CHECK(hue_degrees({50, 0, -10}) == 270.0);
  for (const double zero_a : {0.0, -0.0}) {
    for (const double zero_b : {0.0, -0.0}) CHECK(hue_degrees({50, zero_a, zero_b}) == 0.0);
  }
  CHECK(hue_degrees({50, 10, -0.0}) == 0.0);
  for (const double below : {1e-13, 1e-15, 1e-300, std::numeric_limits<double>::denorm_min()}) {
    CAPTURE(below);
    CHECK(hue_degrees({50, 100, -below}) >= 0.0);
    CHECK(hue_degrees({50, 100, -below}) < 360.0);
  }
}

TEST_CASE("hue_gap_degrees: the short way round, whatever the order or the number of turns") {
  CHECK(hue_gap_degrees(10, 350) == 20.0);
  CHECK(hue_gap_degrees(350, 10) == 20.0);
  CHECK(hue_gap_degrees(0, 180) == 180.0);
  CHECK(hue_gap_degrees(90, 300) == 150.0);
  CHECK(hue_gap_degrees(730, 10) == 0.0);
  CHECK(hue_gap_degrees(-10, 10) == 20.0);
}

TEST_CASE("lab conversions: NaN in gives NaN out") {
  const double nan = std::nan("");
  CHECK(std::isnan(lab_from_xyz({nan, 0.5, 0.5}).a));
  CHECK(std::isnan(lab_from_xyz({0.5, nan, 0.5}).L));
  CHECK(std::isnan(xyz_from_lab({50, nan, 0}).X));
  CHECK(std::isnan(chroma({50, nan, 0})));
  CHECK(std::isnan(hue_degrees({50, 0, nan})));
}
