// SPDX-License-Identifier: MIT
#include <doctest/doctest.h>
#include <lcms2.h>

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <memory>
#include <vector>

#include "colour/difference.h"
#include "colour/distance.h"
#include "colour/random_colours.h"
#include "colour/srgb.h"

using namespace kithue;
using kithue_test::distance;
using test::RandomColours;

namespace {

struct CloseProfile {
  void operator()(void* profile) const { cmsCloseProfile(profile); }
};
using Profile = std::unique_ptr<void, CloseProfile>;
struct DeleteTransform {
  void operator()(void* transform) const { cmsDeleteTransform(transform); }
};
using Transform = std::unique_ptr<void, DeleteTransform>;

Lab lab_from_coded(double r, double g, double b) {
  return lab_from_rgb({light_from_coded(r), light_from_coded(g), light_from_coded(b)});
}

}  // namespace

TEST_CASE("light_from_coded: the curve of IEC 61966-2-1") {
  CHECK(light_from_coded(0.0) == 0.0);
  CHECK(light_from_coded(1.0) == 1.0);
  CHECK(std::fabs(light_from_coded(0.04045) - 0.04045 / 12.92) < 1e-15);
  CHECK(std::fabs(light_from_coded(0.02) - 0.02 / 12.92) < 1e-15);
  CHECK(std::fabs(light_from_coded(0.5) - std::pow((0.5 + 0.055) / 1.055, 2.4)) < 1e-15);
  // The standard rounds its constants: at the joins the two branches differ by under 1e-7.
  CHECK(std::fabs(light_from_coded(std::nextafter(0.04045, 1.0)) - light_from_coded(0.04045)) < 1e-7);
  CHECK(std::fabs(coded_from_light(std::nextafter(0.0031308, 1.0)) - coded_from_light(0.0031308)) < 1e-7);
}

TEST_CASE("coded_from_light: undoes light_from_coded and keeps the sign outside the gamut") {
  for (int i = -2550; i <= 5100; ++i) {
    const double coded = i / 2550.0;
    CAPTURE(coded);
    CHECK(std::fabs(coded_from_light(light_from_coded(coded)) - coded) < 1e-7);
    CHECK(light_from_coded(-coded) == -light_from_coded(coded));
  }
}

TEST_CASE("srgb_to_d50: the colorants that Little CMS gives its sRGB profile") {
  // Primaries and white of IEC 61966-2-1, adapted to D50 by Bradford: two programs, one matrix.
  const Profile profile(cmsCreate_sRGBProfile());
  REQUIRE(profile != nullptr);
  const cmsTagSignature tags[] = {cmsSigRedColorantTag, cmsSigGreenColorantTag, cmsSigBlueColorantTag};
  for (std::size_t j = 0; j < 3; ++j) {
    const auto* column = static_cast<const cmsCIEXYZ*>(cmsReadTag(profile.get(), tags[j]));
    REQUIRE(column != nullptr);
    CHECK(std::fabs(srgb_to_d50().row[0][j] - column->X) < 2e-6);
    CHECK(std::fabs(srgb_to_d50().row[1][j] - column->Y) < 2e-6);
    CHECK(std::fabs(srgb_to_d50().row[2][j] - column->Z) < 2e-6);
  }
}

TEST_CASE("rgb_to_xyz: sRGB under its own white as printed in IEC 61966-2-1") {
  constexpr double kPrinted[3][3] = {
      {0.4124, 0.3576, 0.1805}, {0.2126, 0.7152, 0.0722}, {0.0193, 0.1192, 0.9505}};
  const Matrix3 m = rgb_to_xyz({0.64, 0.33}, {0.30, 0.60}, {0.15, 0.06}, {0.3127, 0.3290});
  for (std::size_t i = 0; i < 3; ++i) {
    for (std::size_t j = 0; j < 3; ++j) CHECK(std::fabs(m.row[i][j] - kPrinted[i][j]) < 0.00005);
  }
}

TEST_CASE("lab_from_rgb: all 256 greys are neutral to 1e-6, white is 100 and black 0") {
  for (int i = 0; i < 256; ++i) {
    const Lab grey = lab_from_coded(i / 255.0, i / 255.0, i / 255.0);
    CAPTURE(i);
    CHECK(std::fabs(grey.a) < 1e-6);
    CHECK(std::fabs(grey.b) < 1e-6);
  }
  CHECK(distance(lab_from_rgb({1, 1, 1}), {100, 0, 0}) < 1e-11);
  CHECK(distance(lab_from_rgb({0, 0, 0}), {0, 0, 0}) < 1e-14);
}

TEST_CASE("lab_from_rgb: agrees with Little CMS's own sRGB and D50 Lab profiles") {
  const Profile srgb(cmsCreate_sRGBProfile());
  const Profile lab(cmsCreateLab4Profile(nullptr));
  const Transform there(cmsCreateTransform(srgb.get(), TYPE_RGB_DBL, lab.get(), TYPE_Lab_DBL,
                                           INTENT_RELATIVE_COLORIMETRIC, cmsFLAGS_NOOPTIMIZE));
  REQUIRE(there != nullptr);
  RandomColours random(61966);
  double worst = 0.0;
  for (int i = 0; i < 50'000; ++i) {
    const double rgb[3] = {random.between(0, 1), random.between(0, 1), random.between(0, 1)};
    double out[3] = {};
    cmsDoTransform(there.get(), rgb, out, 1);
    worst = std::max(worst, distance(lab_from_coded(rgb[0], rgb[1], rgb[2]), {out[0], out[1], out[2]}));
  }
  CHECK(worst < 0.002);  // it works in single precision inside
}

TEST_CASE("rgb_from_lab: undoes lab_from_rgb") {
  RandomColours random(8);
  for (int i = 0; i < 20'000; ++i) {
    const LinearRgb in{random.between(-0.5, 1.5), random.between(-0.5, 1.5), random.between(-0.5, 1.5)};
    const LinearRgb out = rgb_from_lab(lab_from_rgb(in));
    CHECK(std::max({std::fabs(out.r - in.r), std::fabs(out.g - in.g), std::fabs(out.b - in.b)}) < 1e-12);
  }
}

TEST_CASE("in_srgb_gamut: the cube's corners and inside are in, a step outside is out") {
  RandomColours random(9);
  for (int i = 0; i < 20'000; ++i) CHECK(in_srgb_gamut(random.on_screen()));
  for (int corner = 0; corner < 8; ++corner) {
    const LinearRgb rgb{corner & 1 ? 1.0 : 0.0, corner & 2 ? 1.0 : 0.0, corner & 4 ? 1.0 : 0.0};
    CAPTURE(corner);
    CHECK(in_srgb_gamut(lab_from_rgb(rgb)));
    const auto beyond = [](double v) { return v == 0.0 ? -0.001 : 1.001; };
    CHECK_FALSE(in_srgb_gamut(lab_from_rgb({beyond(rgb.r), rgb.g, rgb.b})));
    CHECK_FALSE(in_srgb_gamut(lab_from_rgb({rgb.r, beyond(rgb.g), rgb.b})));
    CHECK_FALSE(in_srgb_gamut(lab_from_rgb({rgb.r, rgb.g, beyond(rgb.b)})));
  }
  CHECK_FALSE(in_srgb_gamut({50, 100, 100}));
  CHECK_FALSE(in_srgb_gamut({101, 0, 0}));
  CHECK_FALSE(in_srgb_gamut({50, std::nan(""), 0}));
}

TEST_CASE("into_srgb_gamut: the result is in gamut, at the same lightness and hue, and not needlessly grey") {
  RandomColours random(10);
  for (int i = 0; i < 5'000; ++i) {
    const Lab lab = random.anywhere();
    const Lab shown = into_srgb_gamut(lab);
    CHECK(in_srgb_gamut(shown));
    if (in_srgb_gamut(lab)) {
      CHECK(shown == lab);
      continue;
    }
    CHECK(shown.L == lab.L);
    CHECK(chroma(shown) <= chroma(lab));
    // Same direction (the cross product of the two is nothing), and one step more would be outside.
    CHECK(std::fabs(shown.a * lab.b - shown.b * lab.a) < 1e-9);
    CHECK_FALSE(in_srgb_gamut({lab.L, shown.a + lab.a * 1e-6, shown.b + lab.b * 1e-6}));
  }
  // Lighter than white or darker than black: white and black, but for the slack of the gamut test.
  CHECK(distance(into_srgb_gamut({120, 30, 30}), {100, 0, 0}) < 0.01);
  CHECK(distance(into_srgb_gamut({-5, 30, 30}), {0, 0, 0}) < 0.02);
}

TEST_CASE("screen_rgb: bytes come back as the same bytes") {
  RandomColours random(11);
  for (int i = 0; i < 20'000; ++i) {
    const auto byte = [&random] { return static_cast<unsigned char>(random.between(0, 256)); };
    const Rgb8 in{byte(), byte(), byte()};
    CHECK(screen_rgb(lab_from_coded(in.r / 255.0, in.g / 255.0, in.b / 255.0)) == in);
  }
}

TEST_CASE("hex_from_lab: seven characters, lower case") {
  CHECK(hex_from_lab({100, 0, 0}) == "#ffffff");
  CHECK(hex_from_lab({0, 0, 0}) == "#000000");
  CHECK(hex_from_lab(lab_from_coded(200 / 255.0, 85 / 255.0, 61 / 255.0)) == "#c8553d");
  CHECK(hex_from_lab({50, 1e9, -1e9}).size() == 7);
}
