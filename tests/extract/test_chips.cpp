// SPDX-License-Identifier: MIT
#include <doctest/doctest.h>

#include <cmath>

#include "advise/dice.h"
#include "extract/chips.h"

using namespace kithue;

namespace {

/// Coloured chips on a grey ground, drawn here: the truth is known.
class Drawn final : public LightRows {
 public:
  struct Disc {
    double x, y, radius;
    bool round;
    std::array<double, 3> light;
  };
  std::vector<Disc> discs;
  double noise = 0.0;
  double tilt = 0.0;  ///< brightness from left to right, as a part of it
  [[nodiscard]] int width() const override { return 600; }
  [[nodiscard]] int height() const override { return 400; }
  [[nodiscard]] const Matrix3& to_xyz() const override { return matrix_; }
  void read(int x, int y, int count, float* light) const override {
    for (int i = 0; i < count; ++i) {
      std::array<double, 3> here{0.6, 0.6, 0.6};
      for (const Disc& disc : discs) {
        const double dx = x + i - disc.x;
        const double dy = y - disc.y;
        const bool inside = disc.round ? std::hypot(dx, dy) < disc.radius
                                       : std::fabs(dx) < disc.radius && std::fabs(dy) < disc.radius;
        if (inside) here = disc.light;
      }
      // A fixed pattern stands for noise: the same pixel reads the same twice.
      const double grain = std::sin(12.9898 * (x + i) + 78.233 * y) * 43758.5453;
      const double factor =
          1.0 + noise * (2.0 * (grain - std::floor(grain)) - 1.0) + tilt * ((x + i) / 600.0 - 0.5);
      for (std::size_t c = 0; c < 3; ++c)
        light[3 * i + static_cast<int>(c)] = static_cast<float>(here[c] * factor);
    }
  }

 private:
  // sRGB primaries under D50 (IEC 61966-2-1, Bradford), rows sum to about the D50 white.
  Matrix3 matrix_{{{{0.4360657, 0.3851515, 0.1430784},
                    {0.2224932, 0.7168870, 0.0606169},
                    {0.0139239, 0.0970813, 0.7140994}}}};
};

Drawn drawn(Dice& dice) {
  Drawn picture;
  for (int i = 0; i < 12; ++i) {
    picture.discs.push_back({80.0 + 145.0 * (i % 4),
                             70.0 + 130.0 * (i / 4),
                             40.0,
                             i % 2 == 0,
                             {dice.between(0.05, 0.4), dice.between(0.05, 0.4), dice.between(0.05, 0.4)}});
  }
  return picture;
}

}  // namespace

TEST_CASE("find_chips: circles and squares on a plain ground, in reading order, with their light") {
  Dice dice(5);
  Drawn picture = drawn(dice);
  picture.noise = 0.03;
  const auto boxes = find_chips(picture);
  REQUIRE(boxes.size() == 12);
  for (std::size_t i = 0; i < boxes.size(); ++i) {
    CAPTURE(i);
    const auto& disc = picture.discs[i];
    CHECK(std::fabs(boxes[i].x + boxes[i].width / 2.0 - disc.x) < 3.0);
    CHECK(std::fabs(boxes[i].y + boxes[i].height / 2.0 - disc.y) < 3.0);
    const ChipLight chip = chip_light(picture, boxes[i]);
    for (std::size_t c = 0; c < 3; ++c) CHECK(std::fabs(chip.light[c] / disc.light[c] - 1.0) < 0.005);
    CHECK(chip.texture < 0.03);
    CHECK(chip.glare == 0.0);
  }
}

TEST_CASE("find_chips: nothing on an empty ground") {
  CHECK(find_chips(Drawn{}).empty());
}

TEST_CASE("chip_light: a gradient, texture and glare are told apart") {
  Drawn tilted;
  tilted.tilt = 0.5;
  const ChipBox whole{0, 0, 600, 400};
  CHECK(std::fabs(chip_light(tilted, whole).gradient - 0.5) < 0.01);
  CHECK(chip_light(tilted, whole).texture < 0.01);
  Drawn rough;
  rough.noise = 0.3;
  CHECK(chip_light(rough, whole).texture > 0.1);
  CHECK(chip_light(rough, whole).gradient < 0.02);
  Drawn shiny;
  shiny.discs.push_back({300, 200, 40, true, {1.0, 1.0, 1.0}});
  const ChipLight glossy = chip_light(shiny, whole);
  CHECK(glossy.glare > 0.05);
  CHECK(std::fabs(glossy.light[0] - 0.6) < 0.01);  // trimmed away
}

TEST_CASE("grid_boxes: cells cover the window, row after row") {
  const auto boxes = grid_boxes({10, 20, 100, 61}, 4, 3);
  REQUIRE(boxes.size() == 12);
  CHECK(boxes[0].x == 10);
  CHECK(boxes[3].x + boxes[3].width == 110);
  CHECK(boxes[11].y + boxes[11].height == 81);
}
