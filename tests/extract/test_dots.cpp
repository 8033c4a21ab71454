// SPDX-License-Identifier: MIT
// Dots and hatching that are drawn by us, so their colours are known. The bounds of faces hold what is
// reached and are no source: they lie between what the program measured with the part under test and without
// it.
#include <doctest/doctest.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <cstddef>
#include <vector>

#include "extract/dots.h"
#include "extract/nearest.h"
#include "extract/palette.h"
#include "paper/camera.h"
#include "photo/photo.h"

using namespace kithue;
using namespace kithue::extract;
using kithue_test::nearest;

namespace {

/// A smeared disc on a grid of tenths of a pixel, averaged over kRoundReach to each side of its middle:
/// blurred as a picture is, along one axis and then along the other.
std::vector<double> profile_of_disc(double radius, double sharp) {
  constexpr double kGrid = 0.1;
  constexpr int kHalf = 120;
  constexpr std::size_t kCount = 2 * kHalf + 1;
  std::vector<double> kernel;
  const int reach = static_cast<int>(4.0 * sharp / kGrid) + 1;
  double sum = 0.0;
  for (int i = -reach; i <= reach; ++i) {
    kernel.push_back(std::exp(-0.5 * i * i * kGrid * kGrid / (sharp * sharp)));
    sum += kernel.back();
  }
  for (double& one : kernel) one /= sum;
  const auto blurred = [&](const std::vector<double>& line) {
    std::vector<double> out(line.size(), 0.0);
    for (int i = 0; i < static_cast<int>(line.size()); ++i) {
      for (int k = -reach; k <= reach; ++k) {
        const int at = std::clamp(i + k, 0, static_cast<int>(line.size()) - 1);
        out[static_cast<std::size_t>(i)] +=
            kernel[static_cast<std::size_t>(k + reach)] * line[static_cast<std::size_t>(at)];
      }
    }
    return out;
  };
  std::vector<std::vector<double>> rows;
  for (int j = -kHalf; j <= kHalf; ++j) {
    std::vector<double> row;
    for (int i = -kHalf; i <= kHalf; ++i)
      row.push_back(std::hypot(i * kGrid, j * kGrid) <= radius ? 1.0 : 0.0);
    rows.push_back(blurred(row));
  }
  std::vector<double> profile(kCount, 0.0);
  for (std::size_t i = 0; i < kCount; ++i) {
    std::vector<double> column;
    for (const auto& row : rows) column.push_back(row[i]);
    column = blurred(column);
    double mean = 0.0;
    int count = 0;
    for (int j = -static_cast<int>(kRoundReach / kGrid); j <= static_cast<int>(kRoundReach / kGrid); ++j) {
      mean += column[static_cast<std::size_t>(j + kHalf)];
      ++count;
    }
    profile[i] = mean / count;
  }
  return profile;
}

struct BandFit {
  double width = 0.0;
  double part = 0.0;
};

/// The band that fits a profile best, and what part of the contrast it has.
BandFit band_of(const std::vector<double>& profile, double sharp) {
  BandFit best;
  double least = 1e300;
  const int half = static_cast<int>(profile.size() / 2);
  for (double width = 1.0; width < 12.0; width += 0.02) {
    double up = 0.0;
    double down = 0.0;
    double square = 0.0;
    for (int i = -half; i <= half; i += 5) {
      const double x = 0.1 * i;
      const double scale = 1.0 / (sharp * std::sqrt(2.0));
      const double band = 0.5 * (std::erf((x + width / 2) * scale) - std::erf((x - width / 2) * scale));
      const double seen = profile[static_cast<std::size_t>(i + half)];
      up += band * seen;
      down += band * band;
      square += seen * seen;
    }
    if (square - up * up / down < least) {
      least = square - up * up / down;
      best = {width, up / down};
    }
  }
  return best;
}

Palette palette_of_drawing(const paper::Face& face, int quality, double blur) {
  paper::Camera camera;
  camera.width = 1200;
  camera.blur = blur;
  SerialExecutor executor;
  const auto photo =
      decode_photo(paper::jpeg_bytes(paper::photograph(face, camera, executor), quality), "face.jpg");
  REQUIRE(photo);
  return extract_palette(*photo->light, {}, executor);
}

constexpr double kOnePixel = 100.0 / 1200.0;

}  // namespace

TEST_CASE("dots: the part of its contrast that a dot shows is that of a disc blurred along both axes") {
  for (const double sharp : {0.6, 0.9, 1.2}) {
    for (const double radius : {2.0, 2.5, 3.0, 4.0}) {
      CAPTURE(sharp);
      CAPTURE(radius);
      const BandFit fit = band_of(profile_of_disc(radius, sharp), sharp);
      CHECK(std::abs(part_of_dot(fit.width, sharp) - fit.part) < 0.025);
    }
  }
  CHECK(part_of_dot(14.0, 0.7) > 0.999);
}

TEST_CASE("extract_palette: small dots among large things have their own colour") {
  paper::Face face{100.0, 75.0, {{{88.0, 2.0, 6.0}}, {{35.0, -25.0, -10.0}}, {{24.0, 20.0, 8.0}}}, {}};
  for (int i = 0; i < 12; ++i) paper::add_circle(face, 1, {8.0 + 16.0 * (i % 6), 20.0 + 36.0 * (i / 6)}, 5.0);
  for (int i = 0; i < 700; ++i)
    paper::add_circle(face, 2, {1.5 + 2.8 * (i % 35), 32.0 + 1.1 * (i / 35) * 1.0}, 2.3 * kOnePixel);
  const Palette palette = palette_of_drawing(face, 92, 0.8);
  CHECK(palette.colours.size() == 3);
  CHECK(nearest(palette, face.colours[2].lab) < 4.0);  // 2.91; without 7.71, and 4 colours
}

TEST_CASE("extract_palette: close hatching makes no colour of its mean") {
  paper::Face face{100.0, 75.0, {{{94.0, 0.0, 4.0}}, {{32.0, 5.0, -20.0}}}, {}};
  paper::Dice dice(3);
  constexpr double kThick = 2.0 * kOnePixel;
  for (int patch = 0; patch < 12; ++patch) {
    const paper::Point at{12.0 + 25.0 * (patch % 4), 12.0 + 25.0 * (patch / 4)};
    const double turn = dice.between(0.0, 6.0);
    for (double off = -9.0; off < 9.0; off += kThick * dice.between(2.2, 4.0)) {
      paper::add_bar(face, 1, {at.x - off * std::sin(turn), at.y + off * std::cos(turn)},
                     2.0 * std::sqrt(81.0 - off * off), kThick, turn);
    }
    paper::add_circle(face, 1, at, 3.0);
  }
  const Palette palette = palette_of_drawing(face, 90, 0.43);
  CHECK(palette.colours.size() == 2);  // without, 3
}

TEST_CASE("extract_palette: light dots beside dark ones are a colour, though a line fits them worse") {
  paper::Face face{100.0, 75.0, {{{31.0, 10.0, -33.0}}, {{31.0, 4.0, -2.0}}, {{88.0, -11.0, 7.0}}}, {}};
  for (int j = 0; j < 46; ++j) {
    for (int i = 0; i < 62; ++i)
      paper::add_circle(face, 1 + (i + j) % 2, {0.9 + 1.6 * i + 0.31 * j, 0.8 + 1.6 * j}, 2.4 * kOnePixel);
  }
  const Palette palette = palette_of_drawing(face, 95, 0.76);
  CHECK(palette.colours.size() == 3);
  CHECK(nearest(palette, face.colours[2].lab) < 4.0);
}
