// SPDX-License-Identifier: MIT
#include <doctest/doctest.h>
#include <lcms2.h>

#include <cmath>
#include <string>

#include "colour/srgb.h"
#include "icc/matrix_profile.h"

TEST_CASE("matrix profile: Little CMS reads sRGB's as sRGB, to 0.02 dE76") {
  const std::string bytes = kithue::matrix_profile(kithue::srgb_to_d50());
  cmsHPROFILE profile = cmsOpenProfileFromMem(bytes.data(), static_cast<cmsUInt32Number>(bytes.size()));
  REQUIRE(profile != nullptr);
  cmsHPROFILE lab_profile = cmsCreateLab4Profile(nullptr);
  cmsHTRANSFORM transform = cmsCreateTransform(profile, TYPE_RGB_DBL, lab_profile, TYPE_Lab_DBL,
                                               INTENT_RELATIVE_COLORIMETRIC, cmsFLAGS_NOOPTIMIZE);
  cmsCloseProfile(profile);
  cmsCloseProfile(lab_profile);
  REQUIRE(transform != nullptr);
  double worst = 0.0;
  for (int r = 0; r <= 8; ++r) {
    for (int g = 0; g <= 8; ++g) {
      for (int b = 0; b <= 8; ++b) {
        const double coded[3] = {r / 8.0, g / 8.0, b / 8.0};
        double seen[3] = {};
        cmsDoTransform(transform, coded, seen, 1);
        const kithue::Lab own =
            kithue::lab_from_rgb({kithue::light_from_coded(coded[0]), kithue::light_from_coded(coded[1]),
                                  kithue::light_from_coded(coded[2])});
        worst = std::max(worst, std::hypot(own.L - seen[0], own.a - seen[1], own.b - seen[2]));
      }
    }
  }
  cmsDeleteTransform(transform);
  MESSAGE("worst dE76: ", worst);
  CHECK(worst < 0.02);
}

TEST_CASE("matrix profile: its size field and its tags agree with its bytes") {
  const std::string bytes = kithue::matrix_profile(kithue::srgb_to_d50());
  const auto number = [&](std::size_t at) {
    unsigned value = 0;
    for (std::size_t i = 0; i < 4; ++i) value = value << 8 | static_cast<unsigned char>(bytes.at(at + i));
    return value;
  };
  CHECK(number(0) == bytes.size());
  CHECK(bytes.substr(36, 4) == "acsp");
  for (std::size_t i = 0; i < number(128); ++i) {
    const std::size_t row = 132 + 12 * i;
    CHECK(number(row + 4) % 4 == 0);
    CHECK(number(row + 4) + number(row + 8) <= bytes.size());
  }
}
