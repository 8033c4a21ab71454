// SPDX-License-Identifier: MIT
// Drawn by us: labels with known shapes.
#include <doctest/doctest.h>

#include <cstdint>
#include <vector>

#include "extract/narrow.h"

using namespace kithue;
using namespace kithue::extract;

namespace {

constexpr int kSide = 120;
constexpr Lab kGround{90, 0, 2};
constexpr Lab kFill{60, -30, 20};
constexpr Lab kSmall{50, 20, 10};
constexpr Lab kRim{68, 11, 6};  // nearer to neither
constexpr std::uint8_t kStroke = 2;

/// Labels of a ground; the tests put small things of colour 2 with open rims on it.
struct Drawing {
  std::vector<std::int16_t> L, a, b;
  Cells cells;
  std::vector<std::uint8_t> labels = std::vector<std::uint8_t>(kSide * kSide, 0);
  Drawing() : L(kSide * kSide), a(kSide * kSide), b(kSide * kSide) {
    cells.width = kSide;
    cells.height = kSide;
    cells.whole_height = kSide;
    cells.L = L.data();
    cells.a = a.data();
    cells.b = b.data();
    for (std::size_t i = 0; i < labels.size(); ++i) colour(i, kGround);
  }
  Drawing(const Drawing&) = delete;
  Drawing& operator=(const Drawing&) = delete;
  void colour(std::size_t i, const Lab& lab) {
    L[i] = static_cast<std::int16_t>(lab.L * kSteps);
    a[i] = static_cast<std::int16_t>(lab.a * kSteps);
    b[i] = static_cast<std::int16_t>(lab.b * kSteps);
  }
  void set(int x, int y, std::uint8_t label) {
    labels[cells.at(x, y)] = label;
    colour(cells.at(x, y), label == kStroke ? kSmall : kRim);
  }
  /// Too near to other things to be flat, though it shows the ground.
  void set_open_ground(int x, int y) { labels[cells.at(x, y)] = kNoLabel; }
  [[nodiscard]] std::vector<std::size_t> narrow() const {
    return narrow_colours({{kGround, kFill, kSmall}, 2}, cells, labels);
  }
};

}  // namespace

TEST_CASE("narrow_colours: upright strokes of one cell with open rims are narrow") {
  Drawing drawing;
  for (int x = 10; x + 10 < kSide; x += 20) {
    for (int y = 0; y < kSide; ++y) {
      for (int rim = -1; rim <= 1; ++rim) drawing.set(x + rim, y, rim == 0 ? kStroke : kNoLabel);
    }
  }
  CHECK(drawing.narrow() == std::vector<std::size_t>{kStroke});
}

TEST_CASE("narrow_colours: slanting strokes are narrow too") {
  Drawing drawing;
  for (int y = 0; y < kSide; ++y) {
    for (int x = y % 30; x < kSide; x += 30) {
      drawing.set(x, y, kStroke);
      if (x > 0) drawing.set(x - 1, y, kNoLabel);
      if (x + 1 < kSide) drawing.set(x + 1, y, kNoLabel);
    }
  }
  CHECK(drawing.narrow() == std::vector<std::size_t>{kStroke});
}

TEST_CASE("narrow_colours: dots and broad bars are not, however few cells they have") {
  Drawing dots;
  Drawing bars;
  for (int y = 4; y + 4 < kSide; ++y) {
    for (int x = 4; x + 4 < kSide; ++x) {
      const int dx = x % 12 - 6;
      const int dy = y % 12 - 6;
      if (dx * dx + dy * dy <= 4) dots.set(x, y, dx * dx + dy * dy <= 1 ? kStroke : kNoLabel);
      if (x % 30 < 9) bars.set(x, y, x % 30 > 0 && x % 30 < 8 ? kStroke : kNoLabel);
    }
  }
  CHECK(dots.narrow().empty());
  CHECK(bars.narrow().empty());
}

TEST_CASE("narrow_colours: two strokes with open ground between them are narrow") {
  Drawing drawing;
  for (int x = 10; x + 10 < kSide; x += 20) {
    for (int y = 0; y < kSide; ++y) {
      for (const int stroke : {0, 6}) {
        for (int rim = -1; rim <= 1; ++rim) drawing.set(x + stroke + rim, y, rim == 0 ? kStroke : kNoLabel);
      }
      for (int between = 2; between <= 4; ++between) drawing.set_open_ground(x + between, y);
    }
  }
  CHECK(drawing.narrow() == std::vector<std::size_t>{kStroke});
}

TEST_CASE("narrow_colours: what alone has edges with the ground is kept, for they tell the smear") {
  Drawing drawing;
  for (int x = 10; x + 10 < kSide; x += 20) {
    for (int y = 0; y < kSide; ++y) {
      for (int rim = -1; rim <= 1; ++rim) drawing.set(x + rim, y, rim == 0 ? 1 : kNoLabel);
    }
  }
  CHECK(narrow_colours({{kGround, kSmall}, 1}, drawing.cells, drawing.labels).empty());
  CHECK(narrow_colours({{kGround, kSmall, kFill}, 1}, drawing.cells, drawing.labels) ==
        std::vector<std::size_t>{1});
}

TEST_CASE("shines_through: what a stroke's ink and a large ground mix to, and nothing else") {
  const std::vector<Lab> colours{kGround, kSmall};
  const std::vector<Lab> inks{{20, 10, -20}};
  const Xyz ground = xyz_from_lab(kGround);
  const Xyz ink = xyz_from_lab(inks.front());
  const Lab half = lab_from_xyz({(ground.X + ink.X) / 2, (ground.Y + ink.Y) / 2, (ground.Z + ink.Z) / 2});
  CHECK(shines_through(half, colours, 1, inks));
  CHECK(shines_through({22, 11, -21}, colours, 1, inks));
  const Lab pale = lab_from_xyz(
      {0.8 * ground.X + 0.2 * ink.X, 0.8 * ground.Y + 0.2 * ink.Y, 0.8 * ground.Z + 0.2 * ink.Z});
  CHECK_FALSE(shines_through(pale, colours, 1, inks));
  CHECK_FALSE(shines_through({half.L, half.a + 40, half.b + 30}, colours, 1, inks));
  CHECK_FALSE(shines_through(half, colours, 1, {}));
}
