// SPDX-License-Identifier: MIT
#include <doctest/doctest.h>

#include <cmath>

#include "colour/adapt.h"
#include "colour/difference.h"
#include "colour/srgb.h"
#include "extract/correction.h"

using namespace kithue;

namespace {

/// Chips of colours all over the gamut, seen by a camera that is a plain matrix.
std::vector<KnownPatch> chips(int count, const Matrix3& camera) {
  std::vector<KnownPatch> patches;
  for (int i = 0; i < count; ++i) {
    const Lab lab =
        into_srgb_gamut(lab_from_lch({30.0 + 60.0 * (i % 5) / 4.0, 10.0 + 8.0 * (i % 4), 51.0 * i}));
    const LinearRgb rgb = rgb_from_lab(lab);
    patches.push_back({"chip", lab, times(camera, {rgb.r, rgb.g, rgb.b}), 0.0});
  }
  return patches;
}

constexpr Matrix3 kCast{{{{1.1, 0.0, 0.0}, {0.0, 0.9, 0.0}, {0.0, 0.0, 0.7}}}};
constexpr Matrix3 kCrosstalk{{{{0.9, 0.2, 0.0}, {0.05, 0.8, 0.05}, {0.0, 0.15, 0.7}}}};

}  // namespace

TEST_CASE("fit_correction: one white card takes away a light that Bradford's transform describes") {
  // CIE illuminant A by CIE 015:2018, table T.3.
  const Matrix3 lamp = bradford(kD50, {1.09850, 1.0, 0.35585});
  const Matrix3 camera = product(inverse(srgb_to_d50()), product(lamp, srgb_to_d50()));
  const Correction correction = fit_correction(chips(1, camera), srgb_to_d50());
  CHECK(correction.kind == CorrectionKind::level);
  CHECK(correction.left_out_mean < 0.0);
  for (const KnownPatch& patch : chips(10, camera)) {
    const auto xyz = times(srgb_to_d50(), patch.seen);
    const Lab seen = lab_from_xyz({xyz[0], xyz[1], xyz[2]});
    CHECK(ciede2000(seen, patch.lab) > 3.0);
    CHECK(ciede2000(corrected(seen, correction, srgb_to_d50()), patch.lab) < 1e-6);
  }
}

TEST_CASE("fit_correction: three chips tell gains of the camera's own channels from those of a lamp") {
  const Correction correction = fit_correction(chips(3, kCast), srgb_to_d50());
  CHECK(correction.kind == CorrectionKind::level);
  CHECK(correction.left_out_mean < 1e-6);
  CHECK(correction.left_out_mean >= 0.0);
  for (const KnownPatch& patch : chips(10, kCast)) {
    const auto xyz = times(srgb_to_d50(), patch.seen);
    CHECK(ciede2000(corrected(lab_from_xyz({xyz[0], xyz[1], xyz[2]}), correction, srgb_to_d50()), patch.lab) <
          1e-6);
  }
}

TEST_CASE("fit_correction: too few chips for a matrix fall back to gains") {
  CHECK(fit_correction(chips(5, kCrosstalk), srgb_to_d50()).kind == CorrectionKind::level);
}

TEST_CASE("fit_correction: eight chips undo a camera whose channels mix, and foretell each other") {
  const Correction correction = fit_correction(chips(8, kCrosstalk), srgb_to_d50());
  CHECK(correction.kind != CorrectionKind::level);
  CHECK(correction.left_out_mean >= 0.0);
  CHECK(correction.left_out_mean < 0.5);
  CHECK(correction.left_out_max >= correction.left_out_mean);
}

TEST_CASE("fit_correction: exposure does not matter to the colours it gives") {
  auto dark = chips(14, kCrosstalk);
  for (KnownPatch& patch : dark) {
    for (double& light : patch.seen) light *= 0.5;
  }
  const Correction correction = fit_correction(dark, srgb_to_d50());
  for (const KnownPatch& patch : dark) {
    const auto xyz = times(srgb_to_d50(), patch.seen);
    CHECK(ciede2000(corrected(lab_from_xyz({xyz[0], xyz[1], xyz[2]}), correction, srgb_to_d50()), patch.lab) <
          0.3);
  }
}

TEST_CASE("correct: with fewer chips than a root-polynomial takes, the reason says so") {
  Palette palette;
  palette.colours.push_back({{60.0, 20.0, 20.0}, 1.0, Role::ground, ""});
  palette.trust = {Grade::fair, 9.5, {}, 9.5};
  correct(palette, fit_correction(chips(5, kCrosstalk), srgb_to_d50()), srgb_to_d50());
  REQUIRE(palette.trust.reasons.size() == 1);
  CHECK(palette.trust.reasons[0].find("cast and level by 5 known colours") != std::string::npos);
  CHECK(palette.trust.reasons[0].find("a root-polynomial takes 6") != std::string::npos);
}

TEST_CASE("correct: the trust says what was done and widens less") {
  Palette palette;
  palette.colours.push_back({{60.0, 20.0, 20.0}, 1.0, Role::ground, ""});
  palette.trust = {
      Grade::fair, 9.0, {"no white or known chip in the frame: the colour of the light is unknown"}, 9.0};
  correct(palette, fit_correction(chips(14, kCrosstalk), srgb_to_d50()), srgb_to_d50());
  CHECK(palette.trust.de00 < 2.0);
  CHECK(palette.trust.grade == Grade::good);
  REQUIRE(palette.trust.reasons.size() == 1);
  CHECK(palette.trust.reasons[0].find("14 known colours") != std::string::npos);
  CHECK_FALSE(palette.colours[0].words.empty());
}
