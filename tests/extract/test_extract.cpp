// SPDX-License-Identifier: MIT
#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>
#include <string>

#include "cli/threads.h"
#include "colour/difference.h"
#include "extract/nearest.h"
#include "extract/palette.h"
#include "paper/camera.h"

using namespace kithue;
using kithue_test::nearest;

namespace {

/// Dots of two colours on a cream ground, drawn by us; the shares are counted from the drawing.
paper::Face dotted_face() {
  paper::Face face{100.0, 75.0, {{{92.0, 1.0, 9.0}}, {{45.0, 48.0, 22.0}}, {{38.0, -10.0, -22.0}}}, {}};
  for (int row = 0; row < 9; ++row) {
    for (int column = 0; column < 12; ++column) {
      paper::add_circle(face, 1 + (row + column) % 2, {4.0 + 8.4 * column, 4.0 + 8.4 * row}, 1.9);
    }
  }
  return face;
}

paper::Shot photo_of(const paper::Face& face, int width) {
  paper::Camera camera;
  camera.width = width;
  SerialExecutor executor;
  return paper::photograph(face, camera, executor);
}

Palette palette_of(const paper::Shot& shot, const ExtractOptions& options = {}) {
  SerialExecutor executor;
  return extract_palette(paper::ShotRows(shot), options, executor);
}

}  // namespace

TEST_CASE("extract_palette: dots on cream give their three colours and shares") {
  const paper::Face face = dotted_face();
  const paper::Shot shot = photo_of(face, 1200);
  const Palette palette = palette_of(shot);
  REQUIRE(palette.colours.size() == 3);
  CHECK(palette.colours.front().role == Role::ground);
  for (std::size_t i = 0; i < 3; ++i) {
    CAPTURE(i);
    CHECK(nearest(palette, face.colours[i].lab) < 0.5);
  }
  CHECK(std::abs(palette.colours.front().share - shot.shares[0]) < 0.01);
  double all = 0.0;
  for (const PaletteColour& colour : palette.colours) all += colour.share;
  CHECK(std::abs(all - 1.0) < 1e-9);
}

TEST_CASE("extract_palette: a plain sheet with grain gives one colour") {
  const paper::Face face{100.0, 75.0, {{{80.0, 6.0, 20.0}}}, {}};
  const Palette palette = palette_of(photo_of(face, 800));
  REQUIRE(palette.colours.size() == 1);
  CHECK(palette.colours.front().share == 1.0);
  CHECK(ciede2000(palette.colours.front().lab, face.colours[0].lab) < 0.3);
}

TEST_CASE("extract_palette: uneven light neither splits nor shifts a colour") {
  const paper::Face face = dotted_face();
  paper::Camera camera;
  camera.width = 1200;
  camera.fall_right = 0.08;
  camera.fall_down = -0.04;
  SerialExecutor executor;
  const Palette palette = palette_of(paper::photograph(face, camera, executor));
  REQUIRE(palette.colours.size() == 3);
  for (const paper::Paint& paint : face.colours) CHECK(nearest(palette, paint.lab) < 0.6);
}

TEST_CASE("extract_palette: lines four pixels wide keep their colour, and edges make none") {
  paper::Face face{100.0, 75.0, {{{93.0, 0.0, 6.0}}, {{42.0, 45.0, 20.0}}}, {}};
  for (int i = 0; i < 20; ++i) {
    paper::add_bar(face, 1, {50.0, 2.0 + 3.8 * i}, 130.0, 4.0 * 100.0 / 1200.0, 0.3);
  }
  const Palette palette = palette_of(photo_of(face, 1200));
  REQUIRE(palette.colours.size() == 2);
  CHECK(nearest(palette, face.colours[1].lab) < 2.0);
}

TEST_CASE("extract_palette: two tones 6 dE00 apart come apart") {
  paper::Face face{100.0, 75.0, {{{70.0, 10.0, 20.0}}, {{63.5, 11.0, 21.0}}}, {}};
  for (int i = 0; i < 60; ++i) {
    paper::add_flower(face, 1, {5.0 + 10.0 * (i % 10), 6.0 + 12.0 * (i / 10)}, 4.0, 6, 0.2 * i);
  }
  const Palette palette = palette_of(photo_of(face, 1200));
  REQUIRE(palette.colours.size() == 2);
  for (const paper::Paint& paint : face.colours) CHECK(nearest(palette, paint.lab) < 0.6);
}

TEST_CASE("extract_palette: watercolour wash makes no colours") {
  paper::Face face{100.0, 75.0, {{{94.0, 0.0, 3.0}}, {{70.0, -5.0, -25.0}, 0.05}}, {}};
  for (int i = 0; i < 12; ++i)
    paper::add_circle(face, 1, {14.0 + 24.0 * (i % 4), 13.0 + 24.0 * (i / 4)}, 9.0);
  CHECK(palette_of(photo_of(face, 1200)).colours.size() == 2);
}

TEST_CASE("extract_palette: any number of threads gives the same bits") {
  const paper::Shot shot = photo_of(dotted_face(), 900);
  const Palette one = palette_of(shot);
  for (const std::size_t threads : {2U, 3U, 8U}) {
    ThreadExecutor executor(threads);
    const Palette many = extract_palette(paper::ShotRows(shot), {}, executor);
    REQUIRE(many.colours.size() == one.colours.size());
    for (std::size_t i = 0; i < one.colours.size(); ++i) {
      CHECK(many.colours[i].lab == one.colours[i].lab);
      CHECK(many.colours[i].share == one.colours[i].share);
    }
  }
}

TEST_CASE("extract_palette: the smallest pictures give a colour") {
  for (const auto& size : {std::pair{1, 1}, std::pair{1, 40}, std::pair{40, 1}, std::pair{2, 2}}) {
    const int width = size.first;
    const int height = size.second;
    CAPTURE(width);
    CAPTURE(height);
    paper::Shot shot{width, height, {}, {}, {}};
    shot.rgb.assign(static_cast<std::size_t>(width) * static_cast<std::size_t>(height) * 3, 255);
    const Palette palette = palette_of(shot);
    REQUIRE(palette.colours.size() == 1);
    CHECK(std::abs(palette.colours.front().lab.L - 100.0) < 0.02);
    CHECK(palette.colours.front().share == 1.0);
  }
}

TEST_CASE("extract_palette: never more colours than asked for") {
  ExtractOptions options;
  options.colours = 2;
  CHECK(palette_of(photo_of(dotted_face(), 900), options).colours.size() == 2);
}

TEST_CASE("extract_palette: without a reference no photo is trusted below 3 dE00") {
  const Palette palette = palette_of(photo_of(dotted_face(), 900));
  CHECK(palette.trust.de00 >= 3.0);
  CHECK(palette.trust.grade != Grade::good);
  CHECK_FALSE(palette.trust.reasons.empty());
}

TEST_CASE("extract_palette: a blurred photo is called so, up to six pixels of smear; a sharp one is not") {
  const auto called_blurred = [](double blur) {
    paper::Camera camera;
    camera.width = 900;
    camera.blur = blur;
    SerialExecutor executor;
    const Palette palette = palette_of(paper::photograph(dotted_face(), camera, executor));
    return std::any_of(palette.trust.reasons.begin(), palette.trust.reasons.end(),
                       [](const std::string& one) { return one.find("blurred") != std::string::npos; });
  };
  for (const double blur : {0.5, 1.0, 1.8}) {
    CAPTURE(blur);
    CHECK_FALSE(called_blurred(blur));
  }
  for (const double blur : {2.6, 4.0, 6.0}) {
    CAPTURE(blur);
    CHECK(called_blurred(blur));
  }
}

TEST_CASE("extract_palette: an accent is not all there is where the pattern around it is nowhere flat") {
  paper::Face face{100.0, 75.0, {{{92.0, -10.0, 4.0}}, {{50.0, 8.0, -2.0}}, {{60.0, 50.0, 40.0}}}, {}};
  // Houndstooth, 8 pixels from check to check.
  constexpr double kCheck = 8.3 * 100.0 / 1200.0;
  for (double y = 0.0; y < 75.0; y += kCheck) {
    for (double x = 0.0; x < 100.0; x += kCheck) paper::add_houndstooth(face, 1, {x, y}, kCheck);
  }
  for (int i = 0; i < 8; ++i) paper::add_circle(face, 2, {10.0 + 11.0 * i, 35.0}, 1.6);
  paper::Camera camera;
  camera.width = 1200;
  SerialExecutor executor;
  const paper::Shot shot = paper::photograph(face, camera, executor);
  const Palette palette = extract_palette(paper::ShotRows(shot), {}, executor);
  REQUIRE(palette.colours.size() > 1);
  CHECK(palette.colours.front().share > 0.4);
  CHECK(nearest(palette, face.colours[2].lab) < 1.5);
  const auto accent =
      std::find_if(palette.colours.begin(), palette.colours.end(),
                   [&](const PaletteColour& one) { return ciede2000(one.lab, face.colours[2].lab) < 1.5; });
  REQUIRE(accent != palette.colours.end());
  CHECK(accent->share < 0.02);
}
