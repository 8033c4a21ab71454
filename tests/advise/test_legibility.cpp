// SPDX-License-Identifier: MIT
#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>
#include <string>

#include "advise/dice.h"
#include "advise/legibility.h"
#include "colour/css.h"

using namespace kithue;

namespace {

/// The formula of WCAG 2.2 on 8-bit sRGB, written out on its own.
double published_contrast(const int (&x)[3], const int (&y)[3]) {
  const auto luminance = [](const int(&rgb)[3]) {
    const double weight[3] = {0.2126, 0.7152, 0.0722};
    double sum = 0.0;
    for (int i = 0; i < 3; ++i) {
      const double c = rgb[i] / 255.0;
      sum += weight[i] * (c <= 0.04045 ? c / 12.92 : std::pow((c + 0.055) / 1.055, 2.4));
    }
    return sum;
  };
  const double a = luminance(x);
  const double b = luminance(y);
  return (std::max(a, b) + 0.05) / (std::min(a, b) + 0.05);
}

Lab colour(const int (&rgb)[3]) {
  const auto lab = lab_from_css("rgb(" + std::to_string(rgb[0]) + " " + std::to_string(rgb[1]) + " " +
                                std::to_string(rgb[2]) + ")");
  REQUIRE(lab);
  return *lab;
}

}  // namespace

// Ratios worked out from the definition in W3C WCAG 2.2, printed to four decimals; 4.48 for #777777 on white
// is also the value usually quoted.
TEST_CASE("contrast_ratio: known pairs") {
  struct Row {
    const char* x;
    const char* y;
    double ratio;
  };
  constexpr Row kRows[] = {
      {"#000000", "#FFFFFF", 21.0000}, {"#FFFFFF", "#FFFFFF", 1.0000}, {"#777777", "#FFFFFF", 4.4781},
      {"#767676", "#FFFFFF", 4.5422},  {"#959595", "#FFFFFF", 2.9953}, {"#949494", "#FFFFFF", 3.0335},
      {"#FF0000", "#FFFFFF", 3.9985},  {"#00FF00", "#FFFFFF", 1.3722}, {"#0000FF", "#FF0000", 2.1489},
      {"#333333", "#C8A97E", 5.6750},  {"#8B4513", "#C8A97E", 3.1883}, {"#0B0B0B", "#000000", 1.0669}};
  for (const Row& row : kRows) {
    CAPTURE(row.x);
    const double ratio = contrast_ratio(*lab_from_css(row.x), *lab_from_css(row.y));
    CHECK(std::fabs(ratio - row.ratio) < 0.00006);
    CHECK(contrast_ratio(*lab_from_css(row.y), *lab_from_css(row.x)) == ratio);
  }
}

TEST_CASE("contrast_ratio: the published formula to 1e-6 on 1,000 random pairs") {
  Dice dice(2);
  for (int i = 0; i < 1000; ++i) {
    const int x[3] = {dice.whole(0, 255), dice.whole(0, 255), dice.whole(0, 255)};
    const int y[3] = {dice.whole(0, 255), dice.whole(0, 255), dice.whole(0, 255)};
    CHECK(std::fabs(contrast_ratio(colour(x), colour(y)) - published_contrast(x, y)) < 1e-6);
  }
}

TEST_CASE("reads_on: the limits, not rounded") {
  const Lab white = *lab_from_css("#ffffff");
  CHECK(reads_on(*lab_from_css("#767676"), white) == Reads::fine);
  CHECK(reads_on(*lab_from_css("#777777"), white) == Reads::bold);
  CHECK(reads_on(*lab_from_css("#949494"), white) == Reads::bold);
  CHECK(reads_on(*lab_from_css("#959595"), white) == Reads::picture);
  CHECK(reads_on({95, 0, 0}, {100, 0, 0}) == Reads::no);
}
