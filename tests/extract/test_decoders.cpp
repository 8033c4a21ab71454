// SPDX-License-Identifier: MIT
#include <doctest/doctest.h>

#include <string>
#include <utility>

#include "cli/threads.h"
#include "extract/palette.h"
#include "image/picture.h"
#include "image/stb.h"
#include "paper/camera.h"
#include "photo/photo.h"
#include "photo/ycc_rows.h"

using namespace kithue;

namespace {

/// An invented face of dots, bars and a small vivid accent.
std::string drawn(std::uint64_t seed) {
  paper::Dice dice(seed);
  paper::Face face{
      1.0, 0.8, {{{90, 2, 9}}, {{48, 45, 22}}, {{42, -12, -24}}, {{70, 8, 58}}, {{35, 50, 30}}}, {}};
  for (int i = 0; i < 60; ++i) {
    const paper::Point at{dice.unit(), 0.8 * dice.unit()};
    if (i % 4 == 3) {
      paper::add_bar(face, 2, at, 0.09, 0.02, dice.between(0.0, 3.0));
    } else {
      paper::add_circle(face, i % 12 == 0 ? 4 : 1 + 2 * (i % 2), at, i % 12 == 0 ? 0.016 : 0.03);
    }
  }
  paper::Camera camera;
  camera.width = 1300;
  camera.seed = seed;
  camera.fall_right = 0.05;
  ThreadExecutor threads(2);
  return paper::jpeg_bytes(paper::photograph(face, camera, threads), 90);
}

Palette by_stb(const std::string& bytes, int width, int height) {
  const auto planes = stb_planes(bytes, width, height);
  REQUIRE(planes != nullptr);
  YccPlanes room = planes->room();
  REQUIRE_FALSE(planes->fill({}).has_value());
  SerialExecutor serial;
  return extract_palette(YccRows(std::move(room), width, height, 1, srgb_model(8)), {}, serial);
}

}  // namespace

TEST_CASE("extract: with and without libjpeg-turbo the palette is the same to the bit") {
  // Without the library both ways are stb_image, and the test says nothing.
  for (const std::uint64_t seed : {1U, 2U, 3U}) {
    CAPTURE(seed);
    const std::string bytes = drawn(seed);
    const auto photo = decode_photo(bytes, "drawn.jpg");
    REQUIRE(photo.has_value());
    SerialExecutor serial;
    const Palette usual = extract_palette(*photo->light, {}, serial);
    const Palette other = by_stb(bytes, photo->width, photo->height);
    CHECK(usual.colours.size() == 5);
    REQUIRE(usual.colours.size() == other.colours.size());
    for (std::size_t i = 0; i < usual.colours.size(); ++i) {
      CHECK(usual.colours[i].lab == other.colours[i].lab);
      CHECK(usual.colours[i].share == other.colours[i].share);
    }
  }
}

TEST_CASE("extract: 1, 2 and 8 threads give the same palette to the bit") {
  const std::string bytes = drawn(4);
  const auto photo = decode_photo(bytes, "drawn.jpg");
  REQUIRE(photo.has_value());
  SerialExecutor serial;
  const Palette one = extract_palette(*photo->light, {}, serial);
  for (const std::size_t threads : {2U, 8U}) {
    ThreadExecutor executor(threads);
    const Palette many = extract_palette(*photo->light, {}, executor);
    REQUIRE(many.colours.size() == one.colours.size());
    for (std::size_t i = 0; i < one.colours.size(); ++i) {
      CHECK(many.colours[i].lab == one.colours[i].lab);
      CHECK(many.colours[i].share == one.colours[i].share);
    }
  }
}
