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
constexpr Lab kSmall{50, 20, 10};

/// Labels of a ground; the tests put small things of colour 1 with open rims on it.
struct Drawing {
  Cells cells;
  std::vector<std::uint8_t> labels = std::vector<std::uint8_t>(kSide * kSide, 0);
  Drawing() {
    cells.width = kSide;
    cells.height = kSide;
    cells.whole_height = kSide;
  }
  void set(int x, int y, std::uint8_t label) { labels[cells.at(x, y)] = label; }
  [[nodiscard]] std::vector<std::size_t> narrow() const {
    return narrow_colours({{kGround, kSmall}, 1}, cells, labels);
  }
};

}  // namespace

TEST_CASE("narrow_colours: upright strokes of one cell with open rims are narrow") {
  Drawing drawing;
  for (int x = 10; x + 10 < kSide; x += 20) {
    for (int y = 0; y < kSide; ++y) {
      for (int rim = -1; rim <= 1; ++rim) drawing.set(x + rim, y, rim == 0 ? 1 : kNoLabel);
    }
  }
  CHECK(drawing.narrow() == std::vector<std::size_t>{1});
}

TEST_CASE("narrow_colours: slanting strokes are narrow too") {
  Drawing drawing;
  for (int y = 0; y < kSide; ++y) {
    for (int x = y % 30; x < kSide; x += 30) {
      drawing.set(x, y, 1);
      if (x > 0) drawing.set(x - 1, y, kNoLabel);
      if (x + 1 < kSide) drawing.set(x + 1, y, kNoLabel);
    }
  }
  CHECK(drawing.narrow() == std::vector<std::size_t>{1});
}

TEST_CASE("narrow_colours: dots and broad bars are not, however few cells they have") {
  Drawing dots;
  Drawing bars;
  for (int y = 4; y + 4 < kSide; ++y) {
    for (int x = 4; x + 4 < kSide; ++x) {
      const int dx = x % 12 - 6;
      const int dy = y % 12 - 6;
      if (dx * dx + dy * dy <= 4) dots.set(x, y, dx * dx + dy * dy <= 1 ? 1 : kNoLabel);
      if (x % 30 < 9) bars.set(x, y, x % 30 > 0 && x % 30 < 8 ? 1 : kNoLabel);
    }
  }
  CHECK(dots.narrow().empty());
  CHECK(bars.narrow().empty());
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
