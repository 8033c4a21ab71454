// SPDX-License-Identifier: MIT
#include <doctest/doctest.h>
#include <lcms2.h>

#include <algorithm>
#include <cmath>
#include <cstddef>

#include "colour/adapt.h"
#include "colour/difference.h"
#include "colour/random_colours.h"
#include "colour/white.h"

using namespace kithue;
using test::RandomColours;

namespace {

double distance(const Xyz& x, const Xyz& y) {
  return std::max({std::fabs(x.X - y.X), std::fabs(x.Y - y.Y), std::fabs(x.Z - y.Z)});
}

}  // namespace

TEST_CASE("bradford: D65 to D50 as published") {
  // B. Lindbloom, "Chromatic Adaptation", matrices for the E308 whites; digits from memory.
  constexpr double kPublished[3][3] = {{1.0478112, 0.0228866, -0.0501270},
                                       {0.0295424, 0.9904844, -0.0170491},
                                       {-0.0092345, 0.0150436, 0.7521316}};
  const Matrix3 m = bradford({0.95047, 1.0, 1.08883}, {0.96422, 1.0, 0.82521});
  for (std::size_t i = 0; i < 3; ++i) {
    for (std::size_t j = 0; j < 3; ++j) {
      CAPTURE(i);
      CAPTURE(j);
      CHECK(std::fabs(m.row[i][j] - kPublished[i][j]) < 6e-8);
    }
  }
}

TEST_CASE("adapted: every known white lands on every other, and the same white changes nothing") {
  for (const White& from : known_whites()) {
    for (const White& to : known_whites()) {
      CAPTURE(from.name);
      CAPTURE(to.name);
      CHECK(distance(adapted(from.xyz, from.xyz, to.xyz), to.xyz) < 1e-14);
    }
    CHECK(distance(adapted({0.3, 0.2, 0.1}, from.xyz, from.xyz), {0.3, 0.2, 0.1}) < 1e-14);
  }
}

TEST_CASE("adapted: agrees with Little CMS between all known whites") {
  RandomColours random(1985);
  double worst = 0.0;
  for (const White& from : known_whites()) {
    for (const White& to : known_whites()) {
      const Xyz xyz{random.between(0, 1), random.between(0, 1), random.between(0, 1)};
      const cmsCIEXYZ of{from.xyz.X, from.xyz.Y, from.xyz.Z};
      const cmsCIEXYZ wanted{to.xyz.X, to.xyz.Y, to.xyz.Z};
      const cmsCIEXYZ in{xyz.X, xyz.Y, xyz.Z};
      cmsCIEXYZ out{};
      REQUIRE(cmsAdaptToIlluminant(&out, &of, &wanted, &in));
      worst = std::max(worst, distance(adapted(xyz, from.xyz, to.xyz), {out.X, out.Y, out.Z}));
    }
  }
  CHECK(worst < 1e-12);
}

TEST_CASE("adapted: going and coming back changes nothing") {
  RandomColours random(6);
  for (const White& from : known_whites()) {
    const Xyz xyz{random.between(0, 1), random.between(0, 1), random.between(0, 1)};
    CHECK(distance(adapted(adapted(xyz, from.xyz, kD50), kD50, from.xyz), xyz) < 1e-13);
  }
}

TEST_CASE("lab_d50_from: a D50 reading keeps its very digits; greys of any white stay grey") {
  CHECK(lab_d50_from({52.13, 43.2, -21.07}, kD50) == Lab{52.13, 43.2, -21.07});
  for (const White& white : known_whites()) {
    for (const double L : {0.5, 5.0, 50.0, 100.0}) {
      CAPTURE(white.name);
      CAPTURE(L);
      const Lab grey = lab_d50_from({L, 0, 0}, white.xyz);
      CHECK(std::fabs(grey.L - L) < 1e-6);
      CHECK(std::fabs(grey.a) < 1e-6);
      CHECK(std::fabs(grey.b) < 1e-6);
    }
  }
}

TEST_CASE("lab_d50_from: a D65 reading is moved, and by more than nothing") {
  // Leaving the adaptation out costs several dE00 on saturated colours.
  const Lab blue{45, 0, -45};
  const Lab moved = lab_d50_from(blue, find_white("D65/2")->xyz);
  CHECK(ciede2000(moved, blue) > 2.0);
  const Xyz under_d65 = xyz_from_lab(blue, find_white("D65/2")->xyz);
  CHECK(moved == lab_from_xyz(adapted(under_d65, find_white("D65/2")->xyz, kD50)));
}
