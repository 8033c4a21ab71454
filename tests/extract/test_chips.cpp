// SPDX-License-Identifier: MIT
#include <doctest/doctest.h>

#include <cmath>

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

}  // namespace

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

TEST_CASE("chip_light: a box as large as a big photo costs no more than an even sample of it") {
  Drawn plain;
  plain.noise = 0.1;
  CHECK(std::fabs(chip_light(plain, {0, 0, 600, 400}).light[1] - 0.6) < 0.002);
  CHECK(std::fabs(chip_light(plain, {7, 9, 1, 1}).light[1] - 0.6) < 0.06);
}

TEST_CASE("chip_light: what lies at the top end is counted") {
  Drawn bright;
  bright.discs.push_back({300, 200, 400, false, {0.5, 1.0, 0.4}});
  CHECK(chip_light(bright, {250, 150, 100, 100}).clipped == 1.0);
  CHECK(chip_light(Drawn{}, {250, 150, 100, 100}).clipped == 0.0);
}
