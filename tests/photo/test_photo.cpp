// SPDX-License-Identifier: MIT
#include <doctest/doctest.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <random>
#include <vector>

#include "colour/difference.h"
#include "colour/srgb.h"
#include "photo/made.h"
#include "photo/photo.h"

using namespace kithue;

namespace {

Photo opened(const std::string& bytes) {
  auto photo = decode_photo(bytes, "face.png");
  REQUIRE_MESSAGE(photo.has_value(), (photo ? "" : describe(photo.error())));
  return std::move(*photo);
}

std::vector<float> all_light(const Photo& photo) {
  std::vector<float> light(static_cast<std::size_t>(photo.width) * static_cast<std::size_t>(photo.height) *
                           3);
  for (int y = 0; y < photo.height; ++y) {
    photo.light->read(0, y, photo.width, light.data() + static_cast<std::size_t>(y * photo.width) * 3);
  }
  return light;
}

Lab lab_at(const Photo& photo, int x, int y) {
  std::array<float, 3> light{};
  photo.light->read(x, y, 1, light.data());
  const auto xyz = times(photo.light->to_xyz(), {static_cast<double>(light[0]), static_cast<double>(light[1]),
                                                 static_cast<double>(light[2])});
  return lab_from_xyz({xyz[0], xyz[1], xyz[2]});
}

double worst_difference(const Photo& a, const Photo& b) {
  REQUIRE(a.width == b.width);
  REQUIRE(a.height == b.height);
  double worst = 0.0;
  for (int y = 0; y < a.height; ++y) {
    for (int x = 0; x < a.width; ++x) worst = std::max(worst, ciede2000(lab_at(a, x, y), lab_at(b, x, y)));
  }
  return worst;
}

/// A scene of width x height RGB pixels, all different, as stored by a camera held at `orientation`
/// (CIPA DC-008: which side of the stored picture is the visual top and left).
std::string stored_scene(int width, int height, int orientation) {
  const auto pixel = [](int x, int y) {
    return std::string{static_cast<char>(x * 5), static_cast<char>(y * 7), static_cast<char>(x * y)};
  };
  const bool turned = orientation >= 5;
  const int columns = turned ? height : width;
  const int rows = turned ? width : height;
  std::string samples;
  for (int row = 0; row < rows; ++row) {
    for (int column = 0; column < columns; ++column) {
      const int back_row = rows - 1 - row;
      const int back_column = columns - 1 - column;
      switch (orientation) {
        case 1:
          samples += pixel(column, row);
          break;  // row 0 top, column 0 left
        case 2:
          samples += pixel(back_column, row);
          break;  // top, right
        case 3:
          samples += pixel(back_column, back_row);
          break;  // bottom, right
        case 4:
          samples += pixel(column, back_row);
          break;  // bottom, left
        case 5:
          samples += pixel(row, column);
          break;  // left, top
        case 6:
          samples += pixel(back_row, column);
          break;  // right, top
        case 7:
          samples += pixel(back_row, back_column);
          break;  // right, bottom
        default:
          samples += pixel(row, back_column);
          break;  // left, bottom
      }
    }
  }
  return made::png(static_cast<std::uint32_t>(columns), static_cast<std::uint32_t>(rows), 8, 2, samples,
                   made::chunk("eXIf", made::tiff(static_cast<unsigned>(orientation))));
}

/// The same random colours, all inside sRGB, as PNG of 8 or 16 bits in the space of the profile given by its
/// chromaticities (Adobe RGB (1998) 4.3.1, SMPTE EG 432-1 for P3) and curve.
std::string twin(int bits, bool adobe, const std::string& between, bool srgb) {
  const Matrix3 to_space =
      inverse(adobe ? rgb_to_xyz({0.64, 0.33}, {0.21, 0.71}, {0.15, 0.06}, {0.3127, 0.3290})
                    : rgb_to_xyz({0.68, 0.32}, {0.265, 0.69}, {0.15, 0.06}, {0.3127, 0.3290}));
  const Matrix3 from_srgb = rgb_to_xyz({0.64, 0.33}, {0.30, 0.60}, {0.15, 0.06}, {0.3127, 0.3290});
  std::mt19937 random(11);
  std::string samples;
  for (int i = 0; i < 400; ++i) {
    std::array<double, 3> light{};
    for (double& value : light) value = light_from_coded(static_cast<double>(random() % 10001U) / 10000.0);
    if (!srgb) light = times(to_space, times(from_srgb, light));
    for (const double value : light) {
      const double whole = std::clamp(value, 0.0, 1.0);
      // The profile's curve: gamma 2.2 with a straight piece of slope 1/32 below 0.05568.
      const double by_gamma = whole < 0.05568 / 32.0 ? whole * 32.0 : std::pow(whole, 1.0 / 2.2);
      const double coded = !srgb && adobe ? by_gamma : coded_from_light(whole);
      const auto number = static_cast<unsigned>(std::lround(coded * (bits == 16 ? 65535.0 : 255.0)));
      samples += bits == 16 ? made::big16(number) : std::string(1, static_cast<char>(number));
    }
  }
  return made::png(20, 20, bits, 2, samples, between);
}

std::string grey_with(const std::string& between) {
  return made::png(1, 1, 8, 2, "\x80\x80\x80", between);
}

}  // namespace

TEST_CASE("decode_photo: what is no picture is refused with its name and what to do") {
  const auto photo = decode_photo("Dear teacher,", "letter.jpg");
  REQUIRE_FALSE(photo.has_value());
  CHECK(photo.error().kind == ErrorKind::bad_input);
  CHECK(photo.error().where == "letter.jpg");
  CHECK_FALSE(photo.error().advice.empty());
  PhotoLimits small;
  small.most_bytes = 4;
  CHECK(decode_photo("Dear teacher,", "letter.jpg", small).error().kind == ErrorKind::impossible);
}

TEST_CASE("decode_photo: a picture is told by content, whatever its name") {
  const auto photo = decode_photo(grey_with(""), "face.jpg");
  REQUIRE(photo.has_value());
  CHECK(photo->format == "PNG");
  CHECK_FALSE(photo->lossy);
}

TEST_CASE("decode_photo: eight orientations of one scene give the same pixels") {
  // Sizes that are not whole bands, in either direction.
  for (const auto& [width, height] : {std::pair{37, 21}, {21, 37}, {1, 5}, {300, 3}}) {
    const Photo upright = opened(stored_scene(width, height, 1));
    const auto expected = all_light(upright);
    for (int o = 2; o <= 8; ++o) {
      CAPTURE(o);
      const Photo photo = opened(stored_scene(width, height, o));
      CHECK(photo.orientation == o);
      CHECK(photo.width == width);
      CHECK(photo.height == height);
      CHECK(all_light(photo) == expected);
    }
  }
}

TEST_CASE("decode_photo: reading part of a row gives the same numbers as reading it whole") {
  for (int o = 1; o <= 8; ++o) {
    CAPTURE(o);
    const Photo photo = opened(stored_scene(300, 40, o));
    const auto whole = all_light(photo);
    for (const auto& [x, y, count] : {std::tuple{0, 0, 1}, {299, 39, 1}, {17, 20, 270}, {5, 33, 0}}) {
      std::vector<float> part(static_cast<std::size_t>(count) * 3);
      photo.light->read(x, y, count, part.data());
      CHECK(std::equal(part.begin(), part.end(), whole.begin() + (y * 300 + x) * 3));
    }
  }
}

TEST_CASE("decode_photo: a JPEG's orientation turns what it stores") {
  const std::string plain = made::file("jpeg/scene.jpg");
  const Photo stored = opened(plain);
  const Photo turned = opened(made::jpeg_with(plain, made::exif(made::tiff(6, true))));
  CHECK(turned.width == stored.height);
  CHECK(turned.height == stored.width);
  // Row 0 of what is stored is the visual right-hand side, column 0 the visual top.
  CHECK(lab_at(turned, turned.width - 1, 0) == lab_at(stored, 0, 0));
  CHECK(lab_at(turned, 0, 0) == lab_at(stored, 0, stored.height - 1));
  CHECK(lab_at(turned, turned.width - 1, turned.height - 1) == lab_at(stored, stored.width - 1, 0));
}

TEST_CASE("decode_photo: Display P3 and Adobe RGB pictures have the colours of their sRGB twins") {
  for (const int bits : {8, 16}) {
    CAPTURE(bits);
    const double most = bits == 16 ? 0.05 : 1.0;
    for (const bool adobe : {false, true}) {
      CAPTURE(adobe);
      const std::string name = adobe ? "profiles/AdobeCompat-v4.icc" : "profiles/DisplayP3-v4.icc";
      const Photo plain = opened(twin(bits, adobe, "", true));
      const Photo wide = opened(twin(bits, adobe, made::iccp(made::file(name)), false));
      CHECK(plain.profile_state == ProfileState::assumed);
      CHECK(wide.profile_state == ProfileState::embedded);
      CHECK(wide.warnings.empty());
      CHECK(worst_difference(plain, wide) < most);
      // The test would notice a profile that is left out.
      CHECK(worst_difference(plain, opened(twin(bits, adobe, "", false))) > 3.0);
    }
  }
  const Photo plain = opened(twin(16, false, "", true));
  CHECK(worst_difference(plain, opened(twin(16, false, made::chunk("cICP", std::string("\x0c\x0d\0\1", 4)),
                                            false))) < 0.01);
}

TEST_CASE("decode_photo: sRGB, Display P3 and Adobe RGB pictures of web-platform-tests agree") {
  // 16 bits against 8 bits of the same profile: only half a step of rounding in each channel may differ.
  CHECK(worst_difference(opened(made::file("wpt/2x2_8bit_sRGB_opaque.png")),
                         opened(made::file("wpt/2x2_16bit_sRGB_opaque.png"))) < 0.75);
  CHECK(worst_difference(opened(made::file("wpt/2x2_8bit_DisplayP3_opaque.png")),
                         opened(made::file("wpt/2x2_16bit_DisplayP3_opaque.png"))) < 0.75);
  // Full red in each space, by the chromaticities of its red primary: P3 and Adobe RGB red are not sRGB's.
  const Lab srgb = lab_at(opened(made::file("wpt/sRGB-FF0000FF.png")), 0, 0);
  CHECK(ciede2000(srgb, lab_from_rgb({1, 0, 0})) < 0.05);
  const Photo p3 = opened(made::file("wpt/Display-P3-FF0000FF.png"));
  CHECK(p3.profile == "Display P3");
  CHECK(ciede2000(lab_at(p3, 0, 0), srgb) > 3.0);
}

TEST_CASE("decode_photo: cICP, then ICC, then sRGB, then gAMA and cHRM") {
  const std::string cicp = made::chunk("cICP", std::string("\x0c\x0d\0\1", 4));
  const std::string icc = made::iccp(made::file("profiles/ProPhoto-v4.icc"));
  const std::string srgb = made::chunk("sRGB", std::string(1, '\0'));
  const std::string gamma = made::gama(1.0) + made::chrm({0.3127, 0.329, 0.64, 0.33, 0.3, 0.6, 0.15, 0.06});
  const auto light = [](const std::string& chunks) {
    const Photo photo = opened(grey_with(chunks));
    CHECK(photo.profile_state == ProfileState::embedded);
    return lab_at(photo, 0, 0).L;
  };
  const double coded = 128.0 / 255.0;
  const auto lightness = [](double y) { return lab_from_xyz({0.9642 * y, y, 0.8249 * y}).L; };
  CHECK(std::fabs(light(gamma) - lightness(coded)) < 0.01);
  CHECK(std::fabs(light(gamma + srgb) - lightness(light_from_coded(coded))) < 0.01);
  CHECK(std::fabs(light(gamma + srgb + icc) - lightness(std::pow(coded, 1.8))) < 0.01);
  CHECK(std::fabs(light(gamma + srgb + icc + cicp) - lightness(light_from_coded(coded))) < 0.01);
  CHECK(opened(grey_with(gamma + srgb + icc + cicp)).profile == "Display P3");
}

TEST_CASE("decode_photo: what cannot be used is passed over, said, and falls to the next") {
  const std::string pq = made::chunk("cICP", std::string("\x09\x10\0\1", 4));
  const Photo hdr = opened(grey_with(pq));
  CHECK(hdr.profile_state == ProfileState::broken);
  CHECK(hdr.profile == "sRGB (assumed)");
  CHECK(hdr.warnings.size() == 1);
  const Photo both = opened(grey_with(pq + made::iccp(made::file("profiles/sRGB-v4.icc"))));
  CHECK(both.profile_state == ProfileState::embedded);
  CHECK(both.warnings.size() == 1);
  const Photo wrong = opened(grey_with(made::iccp(made::file("profiles/sGrey-v4.icc"))));
  CHECK(wrong.profile_state == ProfileState::broken);
  CHECK(wrong.warnings.front().find("it is for grey, the picture is RGB") != std::string::npos);
  const Photo impossible = opened(grey_with(made::gama(1.0) + made::chrm({0, 0, 0, 0, 0, 0, 0, 0})));
  CHECK(impossible.profile_state == ProfileState::embedded);
  CHECK(impossible.profile == "gamma 1.00");
  CHECK(impossible.warnings.size() == 1);
  const Photo zero = opened(grey_with(made::gama(0.0)));
  CHECK(zero.profile_state == ProfileState::broken);
  const Photo plain = opened(grey_with(""));
  CHECK(plain.profile_state == ProfileState::assumed);
  CHECK(plain.profile == "sRGB (assumed)");
  CHECK(plain.warnings.empty());
}

TEST_CASE("decode_photo: the white of stated chromaticities becomes D50's") {
  // Illuminant A as the white; primaries of sRGB.
  const Photo photo =
      opened(made::png(1, 1, 8, 2, "\xff\xff\xff",
                       made::gama(0.5) + made::chrm({0.4476, 0.4074, 0.64, 0.33, 0.3, 0.6, 0.15, 0.06})));
  const Lab white = lab_at(photo, 0, 0);
  CHECK(std::fabs(white.L - 100.0) < 1e-4);
  CHECK(chroma(white) < 1e-3);
}

TEST_CASE("decode_photo: PngSuite's gamma pictures show one scene") {
  // The same scene stored for six gammas, in steps of at best 1/255 of the coded value: the light must agree
  // on average to 0.03 (the files themselves are up to 0.02 apart; with the gamma left out, 0.1 and more).
  for (const std::string kind : {"n0g16", "n2c08", "n3p04"}) {
    const auto first = all_light(opened(made::file("pngsuite/g10" + kind + ".png")));
    for (const char* gamma : {"g03", "g04", "g05", "g07", "g25"}) {
      const std::string file = gamma + kind;
      CAPTURE(file);
      const auto other = all_light(opened(made::file("pngsuite/" + file + ".png")));
      REQUIRE(other.size() == first.size());
      double sum = 0.0;
      for (std::size_t i = 0; i < first.size(); ++i)
        sum += std::fabs(static_cast<double>(first[i] - other[i]));
      CHECK(sum / static_cast<double>(first.size()) < 0.03);
    }
  }
}

TEST_CASE("decode_photo: 16 bits give finer light than 8") {
  std::string ramp;
  for (unsigned i = 0; i < 4096; ++i) ramp += made::big16(i);
  const Photo photo = opened(made::png(4096, 1, 16, 0, ramp));
  CHECK(photo.bits == 16);
  const auto light = all_light(photo);
  bool exact = true;
  for (std::size_t i = 0; i < 4096; ++i) {
    exact = exact && std::fabs(static_cast<double>(light[3 * i]) -
                               light_from_coded(static_cast<double>(i) / 65535.0)) < 1e-8;
  }
  CHECK(exact);
}

TEST_CASE("decode_photo: alpha is composed on white in linear light") {
  const auto light_of = [](const std::string& png) {
    const Photo photo = opened(png);
    CHECK(photo.had_alpha);
    std::array<float, 3> light{};
    photo.light->read(0, 0, 1, light.data());
    return light;
  };
  const double cover = 128.0 / 255.0;
  for (const float value : light_of(made::png(1, 1, 8, 6, std::string("\0\0\0\x80", 4)))) {
    CHECK(std::fabs(static_cast<double>(value) - (1.0 - cover)) < 1e-6);
  }
  CHECK(light_of(made::png(1, 1, 8, 4, std::string("\x20\0", 2)))[1] == 1.0F);
  const double paint = light_from_coded(0x40 / 255.0);
  const float both = light_of(made::png(1, 1, 16, 4, std::string("\x40\x40\x80\x80", 4)))[2];
  CHECK(std::fabs(static_cast<double>(both) - (cover * paint + 1.0 - cover)) < 1e-6);
}

TEST_CASE("decode_photo: the share of pixels at the top of their range") {
  std::string samples(3 * 100, '\x40');
  samples[3 * 7 + 1] = '\xff';
  samples[3 * 99] = '\xff';
  samples[3 * 99 + 2] = '\xff';
  CHECK(opened(made::png(10, 10, 8, 2, samples)).clipped_share == 0.02);
  CHECK(opened(made::png(10, 10, 8, 0, std::string(100, '\xfe'))).clipped_share == 0.0);
  CHECK(opened(made::png(2, 1, 8, 4, std::string("\xff\0\xff\xff", 4))).clipped_share == 0.5);
  CHECK(opened(made::png(2, 1, 16, 0, "\xff\xff\xff\xfe")).clipped_share == 0.5);
}

TEST_CASE("decode_photo: a JPEG's profile is honoured, and a broken one is said") {
  const std::string plain = made::file("jpeg/scene.jpg");
  const std::string icc = made::file("profiles/DisplayP3-v4.icc");
  const Photo wide = opened(made::jpeg_with(plain, made::icc_piece(1, 1, icc)));
  CHECK(wide.profile_state == ProfileState::embedded);
  CHECK(wide.profile == "sP3");
  CHECK(wide.lossy);
  CHECK(worst_difference(wide, opened(plain)) > 3.0);
  const Photo missing = opened(made::jpeg_with(plain, made::icc_piece(1, 2, icc)));
  CHECK(missing.profile_state == ProfileState::broken);
  CHECK(missing.warnings.front().find("piece 2 of 2 is missing") != std::string::npos);
  CHECK(worst_difference(missing, opened(plain)) == 0.0);
}
