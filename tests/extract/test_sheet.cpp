// SPDX-License-Identifier: MIT
#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>

#include "cli/threads.h"
#include "colour/difference.h"
#include "extract/nearest.h"
#include "extract/palette.h"
#include "extract/sheet.h"
#include "paper/scene.h"

using namespace kithue;
using kithue_test::nearest;

namespace {

/// Dots of two colours on cream, drawn by us.
paper::Face dotted() {
  paper::Face face{4.0, 3.0, {{{90.0, 2.0, 12.0}}, {{45.0, 48.0, 22.0}}, {{40.0, -12.0, -24.0}}}, {}};
  for (int row = 0; row < 6; ++row) {
    for (int column = 0; column < 8; ++column)
      paper::add_circle(face, 1 + (row + column) % 2, {0.25 + 0.5 * column, 0.25 + 0.5 * row}, 0.14);
  }
  return face;
}

paper::Camera camera_of(int width) {
  paper::Camera camera;
  camera.width = width;
  camera.samples = 2;
  return camera;
}

Sheet sheet_in(const paper::Shot& shot) {
  SerialExecutor executor;
  const paper::ShotRows rows(shot);
  return find_sheet(small_picture_of(rows, executor), rows, executor);
}

/// The largest distance between where the corners are and where they were found, in pixels.
double off(const Sheet& sheet, const paper::SceneShot& shot) {
  double most = 0.0;
  for (std::size_t i = 0; i < 4; ++i)
    most = std::max(
        most, std::hypot(sheet.corners[i].x - shot.corners[i].x, sheet.corners[i].y - shot.corners[i].y));
  return most;
}

}  // namespace

TEST_CASE("find_sheet: a turned sheet on a wooden table, its shadow beside it, is found") {
  SerialExecutor executor;
  for (const double turn : {-9.0, -2.5, 4.0, 10.0}) {
    CAPTURE(turn);
    paper::Scene scene;
    scene.turn_degrees = turn;
    scene.kind = paper::TableKind::wood;
    scene.texture = 0.05;
    scene.shadow = 0.5;
    const auto shot = paper::photograph_scene(dotted(), scene, camera_of(900), executor);
    const Sheet sheet = sheet_in(shot.shot);
    CHECK(sheet.certain);
    CHECK(off(sheet, shot) < 14.0);
    CHECK(std::abs(sheet.turned_degrees - turn) < 0.6);
    CHECK(sheet.words.find("found") != std::string::npos);
  }
}

TEST_CASE("SheetRows: the palette of a turned sheet has its colours and none of the table's") {
  SerialExecutor executor;
  paper::Scene scene;
  scene.turn_degrees = 8.0;
  const paper::Face face = dotted();
  const auto shot = paper::photograph_scene(face, scene, camera_of(1200), executor);
  const paper::ShotRows rows(shot.shot);
  const Sheet sheet = sheet_in(shot.shot);
  REQUIRE(sheet.certain);
  const SheetRows upright(rows, sheet);
  // Most of the sheet is looked at: 0.7 x 0.525 of the frame's width were drawn.
  CHECK(upright.width() * upright.height() > 0.85 * 0.7 * 0.525 * 1200 * 1200);
  const Palette palette = extract_palette(upright, {}, executor);
  CHECK(palette.colours.size() == 3);
  for (const paper::Paint& paint : face.colours) CHECK(nearest(palette, paint.lab) < 1.0);
  CHECK(nearest(palette, scene.table) > 8.0);
}

TEST_CASE("SheetRows: pixels one by one are the pixels of a row, and squares are their means") {
  SerialExecutor executor;
  paper::Scene scene;
  scene.turn_degrees = -7.0;
  const auto shot = paper::photograph_scene(dotted(), scene, camera_of(600), executor);
  const paper::ShotRows rows(shot.shot);
  const SheetRows upright(rows, sheet_in(shot.shot));
  const int width = upright.width();
  std::vector<float> row(3 * static_cast<std::size_t>(width));
  std::vector<float> below(row.size());
  upright.read(0, 40, width, row.data());
  upright.read(0, 41, width, below.data());
  std::vector<float> red(static_cast<std::size_t>(width) / 2);
  std::vector<float> green(red.size());
  std::vector<float> blue(red.size());
  upright.read_halved(0, 40, width / 2, red.data(), green.data(), blue.data());
  for (int x = 0; x < width; ++x) {
    const auto i = static_cast<std::size_t>(x);
    std::array<float, 3> one{};
    upright.read(x, 40, 1, one.data());
    REQUIRE(one[1] == row[3 * i + 1]);
    if (x % 2 != 0) continue;
    const float mean = 0.25F * (row[3 * i + 1] + row[3 * i + 4] + below[3 * i + 1] + below[3 * i + 4]);
    REQUIRE(std::abs(green[i / 2] - mean) < 1e-6F);
  }
}

TEST_CASE("find_sheet: a sheet that fills the frame is left whole, and the words say so") {
  SerialExecutor executor;
  const Sheet sheet = sheet_in(paper::photograph(dotted(), camera_of(900), executor));
  CHECK_FALSE(sheet.certain);
  CHECK(sheet.share == 1.0);
  CHECK(sheet.corners[2].x == 900.0);
  CHECK(sheet.words.find("nothing was cut off") == 0);
}

TEST_CASE("find_sheet: a border of one width may be printed on the sheet and stays") {
  SerialExecutor executor;
  paper::Scene scene;
  scene.width = 0.8;
  scene.height = 0.8;  // a margin of 0.1 all around a square
  scene.centre = {0.5, 0.4};
  paper::Face face = dotted();
  face.height = 3.0;
  face.width = 4.0;
  scene.height = 0.8 * 0.75 + 0.2;
  const auto shot = paper::photograph_scene(face, scene, camera_of(900), executor);
  const Sheet sheet = sheet_in(shot.shot);
  CHECK_FALSE(sheet.certain);
  CHECK(sheet.border);
  CHECK(sheet.words.find("--crop") != std::string::npos);
}

TEST_CASE("find_sheet: a sheet that runs out of the frame on one side is found when it is turned") {
  SerialExecutor executor;
  paper::Scene scene;
  scene.turn_degrees = 5.0;
  scene.centre = {0.75, 0.375};
  const auto shot = paper::photograph_scene(dotted(), scene, camera_of(900), executor);
  const Sheet sheet = sheet_in(shot.shot);
  CHECK(sheet.certain);
  CHECK(sheet.open[2]);
  CHECK_FALSE(sheet.open[0]);
  CHECK(std::hypot(sheet.corners[0].x - shot.corners[0].x, sheet.corners[0].y - shot.corners[0].y) < 14.0);
}

TEST_CASE("find_sheet: pictures too small or too narrow to tell are left whole") {
  SerialExecutor executor;
  for (const int width : {16, 40, 63}) {
    CAPTURE(width);
    CHECK_FALSE(sheet_in(paper::photograph(dotted(), camera_of(width), executor)).certain);
  }
  paper::Shot narrow;
  narrow.width = 1;
  narrow.height = 3000;
  narrow.rgb.assign(9000, 200);
  CHECK_FALSE(sheet_in(narrow).certain);
}

TEST_CASE("small_picture_of: the same bits for any number of threads, light as bright as the picture's") {
  SerialExecutor serial;
  const paper::Shot shot = paper::photograph(dotted(), camera_of(1100), serial);
  const paper::ShotRows rows(shot);
  const SmallPicture one = small_picture_of(rows, serial);
  CHECK(one.step == 5);
  ThreadExecutor many(4);
  const SmallPicture four = small_picture_of(rows, many);
  CHECK(one.places == four.places);
  double sum = 0.0;
  for (const auto& light : one.light) sum += static_cast<double>(light[1]);
  double whole = 0.0;
  std::vector<float> row(3 * static_cast<std::size_t>(shot.width));
  for (int y = 0; y < shot.height; ++y) {
    rows.read(0, y, shot.width, row.data());
    for (int x = 0; x < shot.width; ++x)
      whole += static_cast<double>(row[3 * static_cast<std::size_t>(x) + 1]);
  }
  const double mean = whole / (static_cast<double>(shot.width) * shot.height);
  CHECK(std::abs(sum / static_cast<double>(one.light.size()) / mean - 1.0) < 0.02);
}
