// SPDX-License-Identifier: MIT
#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>
#include <random>
#include <vector>

#include "colour/difference.h"
#include "colour/srgb.h"
#include "icc/lab_by_lcms.h"
#include "icc/profile.h"
#include "photo/made.h"
#include "samples/table_profile.h"

using namespace kithue;

namespace {

/// Our Lab of a coded 16-bit pixel, straight from the model.
Lab model_lab(const ColourModel& model, const std::array<std::uint16_t, 3>& coded) {
  std::array<float, 3> light{};
  if (model.grid) {
    model.grid->light(static_cast<float>(coded[0]) / 65535.0F, static_cast<float>(coded[1]) / 65535.0F,
                      static_cast<float>(coded[2]) / 65535.0F, light.data());
  } else {
    for (std::size_t i = 0; i < 3; ++i) light[i] = model.curve[i][coded[i]];
  }
  const auto xyz = times(model.to_xyz, {static_cast<double>(light[0]), static_cast<double>(light[1]),
                                        static_cast<double>(light[2])});
  return lab_from_xyz({xyz[0], xyz[1], xyz[2]});
}

/// The largest dE00 between the model and Little CMS, over random pixels.
double worst_against_lcms(const std::string& icc, const ColourModel& model, int count) {
  std::mt19937 random(7);
  std::vector<std::array<std::uint16_t, 3>> coded(static_cast<std::size_t>(count));
  std::vector<std::array<double, 3>> device(coded.size());
  for (std::size_t i = 0; i < coded.size(); ++i) {
    for (std::size_t k = 0; k < 3; ++k) {
      coded[i][k] = static_cast<std::uint16_t>(random() & 0xffffU);
      device[i][k] = coded[i][k] / 65535.0;
    }
  }
  const std::vector<Lab> expected = lab_by_lcms(icc, device, INTENT_RELATIVE_COLORIMETRIC);
  double worst = 0.0;
  for (std::size_t i = 0; i < coded.size(); ++i)
    worst = std::max(worst, ciede2000(model_lab(model, coded[i]), expected[i]));
  return worst;
}

void check_unusable(const std::string& icc, const std::string& word, int channels = 3) {
  CAPTURE(word);
  const auto model = model_from_profile(icc, channels, 8);
  REQUIRE_FALSE(model.has_value());
  CHECK_MESSAGE(model.error().what.find(word) != std::string::npos, model.error().what);
}

}  // namespace

TEST_CASE("model_from_profile: matrix profiles agree with Little CMS to 0.05 dE00") {
  for (const char* name :
       {"sRGB-v4", "DisplayP3-v4", "DisplayP3-v2-magic", "AdobeCompat-v4", "ProPhoto-v4"}) {
    CAPTURE(name);
    const std::string icc = made::file(std::string("profiles/") + name + ".icc");
    const auto model = model_from_profile(icc, 3, 16);
    REQUIRE(model.has_value());
    CHECK(model->grid == nullptr);
    CHECK(worst_against_lcms(icc, *model, 20000) < 0.05);
  }
}

TEST_CASE("model_from_profile: a smooth table agrees with Little CMS to 0.1 dE00") {
  const std::string icc = samples::table_profile(17);
  const auto model = model_from_profile(icc, 3, 16);
  REQUIRE(model.has_value());
  CHECK(model->grid != nullptr);
  CHECK(model->name == "Table f\u00fcr Papier");
  CHECK(worst_against_lcms(icc, *model, 20000) < 0.1);
}

TEST_CASE("model_from_profile: the sRGB profile is our sRGB to 0.02 dE00") {
  const auto model = model_from_profile(made::file("profiles/sRGB-v4.icc"), 3, 8);
  const ColourModel plain = srgb_model(8);
  REQUIRE(model.has_value());
  double worst = 0.0;
  for (std::size_t i = 0; i < 256; ++i) {
    for (const auto& rgb : {std::array<std::size_t, 3>{i, i, i}, {i, 0, 255}, {255 - i, i, 30}}) {
      const auto lab = [&](const ColourModel& m) {
        const auto xyz =
            times(m.to_xyz, {static_cast<double>(m.curve[0][rgb[0]]), static_cast<double>(m.curve[1][rgb[1]]),
                             static_cast<double>(m.curve[2][rgb[2]])});
        return lab_from_xyz({xyz[0], xyz[1], xyz[2]});
      };
      worst = std::max(worst, ciede2000(lab(*model), lab(plain)));
    }
  }
  CHECK(worst < 0.02);
}

TEST_CASE("model_from_profile: grey comes out neutral and on the profile's curve") {
  const auto model = model_from_profile(made::file("profiles/sGrey-v4.icc"), 1, 8);
  REQUIRE(model.has_value());
  for (std::size_t i = 0; i < 256; ++i) {
    const double light = static_cast<double>(model->curve[0][i]);
    const auto xyz = times(model->to_xyz, {light, light, light});
    const Lab lab = lab_from_xyz({xyz[0], xyz[1], xyz[2]});
    CHECK(chroma(lab) < 1e-9);
    CHECK(std::fabs(light - light_from_coded(static_cast<double>(i) / 255.0)) < 1e-4);
  }
}

TEST_CASE("model_from_profile: what cannot be used says why") {
  const std::string good = made::file("profiles/DisplayP3-v4.icc");
  const auto with = [&good](std::size_t at, const std::string& bytes) {
    std::string changed = good;
    return changed.replace(at, bytes.size(), bytes);
  };
  check_unusable("", "not a colour profile");
  check_unusable(good.substr(0, 100), "not a colour profile");
  check_unusable(with(36, "acsq"), "not a colour profile");
  check_unusable(with(0, made::big32(0xffffffff)), "cut short");
  check_unusable(good.substr(0, 400), "cut short");
  check_unusable(with(128, made::big32(0xffffffff)), "table of contents");
  check_unusable(with(128, made::big32(0)), "table of contents");
  check_unusable(with(136, made::big32(0x10000000)), "lies outside");
  check_unusable(with(16, "CMYK"), "it is for CMYK, the picture is RGB");
  check_unusable(with(16, "GRAY"), "it is for grey, the picture is RGB");
  check_unusable(good, "it is for RGB, the picture is grey", 1);
  check_unusable(made::file("profiles/sGrey-v4.icc"), "it is for grey", 3);
  check_unusable(with(12, "link"), "not the profile of a device");
  check_unusable(with(12, "abst"), "not the profile of a device");
}

TEST_CASE("model_from_profile: cut or changed anywhere, it gives a finite model or a reason") {
  for (const std::string& good :
       {made::file("profiles/DisplayP3-v4.icc"), made::file("profiles/sGrey-v4.icc")}) {
    const int channels = good.substr(16, 4) == "GRAY" ? 1 : 3;
    for (std::size_t at = 0; at < good.size(); ++at) {
      CAPTURE(at);
      CHECK_FALSE(model_from_profile(good.substr(0, at), channels, 8).has_value());
      for (const char value : {'\0', '\x7f', '\xff'}) {
        std::string changed = good;
        changed[at] = value;
        const auto model = model_from_profile(changed, channels, 8);
        if (!model) {
          CHECK_FALSE(model.error().what.empty());
          continue;
        }
        bool finite = std::isfinite(determinant(model->to_xyz));
        for (const auto& curve : model->curve) {
          for (const float light : curve) finite = finite && std::isfinite(light);
        }
        CHECK(finite);
      }
    }
  }
}
