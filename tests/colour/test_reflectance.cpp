// SPDX-License-Identifier: MIT
#include <doctest/doctest.h>

#include <cmath>
#include <vector>

#include "advise/dice.h"
#include "base/files.h"
#include "base/text.h"
#include "colour/css.h"
#include "colour/reflectance.h"
#include "places.h"

using namespace kithue;

// Curves: an independent program's, from the equations of Burns 2020, printed to eight decimals.
TEST_CASE("curve_from_lab: the published method's curves, band by band") {
  const auto text = read_file(std::string(tests::kTestData) + "/colour/reflectance_lhtss.csv", 1 << 20);
  REQUIRE(text);
  int curves = 0;
  for (const std::string_view line : split(*text, '\n')) {
    if (!line.starts_with('"')) continue;
    const auto fields = split(line.substr(line.rfind('"') + 2), ',');
    REQUIRE(fields.size() == 5 + kBands);
    const Lab lab{*parse_number(fields[1]), *parse_number(fields[2]), *parse_number(fields[3])};
    const Curve curve = curve_from_lab(lab);
    CAPTURE(css_lab(lab));
    for (std::size_t i = 0; i < kBands; ++i)
      CHECK(std::fabs(curve[i] - *parse_number(fields[5 + i])) < 1.5e-8);
    ++curves;
  }
  CHECK(curves == 18);
}

TEST_CASE("curve_from_lab: colours of surfaces come back to 1e-7, every value between 0 and 1") {
  Dice dice(4);
  for (int i = 0; i < 3000; ++i) {
    const Lab lab{dice.between(15, 95), dice.between(-30, 30), dice.between(-30, 40)};
    const Curve curve = curve_from_lab(lab);
    const Lab back = lab_from_curve(curve);
    CAPTURE(css_lab(lab));
    for (const double value : curve) REQUIRE((value > 0.0 && value < 1.0));
    if (lab.L > 30.0 && lab.L < 80.0) {
      REQUIRE(std::fabs(back.L - lab.L) < 1e-7);
      REQUIRE(std::fabs(back.a - lab.a) < 1e-7);
      REQUIRE(std::fabs(back.b - lab.b) < 1e-7);
    }
  }
}

TEST_CASE("curve_from_lab: colours that no surface has still give a curve, of their lightness") {
  for (const Lab& lab : {Lab{100, 0, 0}, Lab{110, 5, 5}, Lab{0, 0, 0}, Lab{-5, 0, 0}, Lab{50, 150, -150},
                         Lab{98, -60, 100}, Lab{2, 0, 40}}) {
    CAPTURE(css_lab(lab));
    const Curve curve = curve_from_lab(lab);
    for (const double value : curve) REQUIRE((value > 0.0 && value < 1.0));
    CHECK(std::fabs(lab_from_curve(curve).L - std::fmin(std::fmax(lab.L, 0.01), 99.9)) < 0.02);
  }
}
