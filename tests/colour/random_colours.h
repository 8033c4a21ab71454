// SPDX-License-Identifier: MIT
#pragma once

#include <cstdint>
#include <numbers>
#include <random>

#include "colour/lab.h"
#include "colour/srgb.h"

namespace kithue::test {

/// The same colours on every machine: the library's own distributions may differ from one to the next.
class RandomColours {
 public:
  explicit RandomColours(std::uint64_t seed) : engine_(seed) {}

  double between(double least, double most) {
    return least + (most - least) * static_cast<double>(engine_() >> 11U) * 0x1p-53;
  }
  Lab anywhere() { return {between(0, 100), between(-128, 128), between(-128, 128)}; }
  Lab on_screen() {
    return lab_from_rgb(
        {light_from_coded(between(0, 1)), light_from_coded(between(0, 1)), light_from_coded(between(0, 1))});
  }
  Lab near(const Lab& lab, double reach) {
    return {lab.L + between(-reach, reach), lab.a + between(-reach, reach), lab.b + between(-reach, reach)};
  }
  Lab polar(double C, double degrees) { return lab_from_lch({between(0, 100), C, degrees}); }

  struct Pair {
    Lab x, y;
  };
  /// By turns: anywhere in a box past every gamut; on a screen; close together; near-neutral; dark and
  /// far outside. Exactly opposite hues do not occur.
  Pair pair(int turn) {
    switch (turn % 5) {
      case 0:
        return {anywhere(), anywhere()};
      case 1:
        return {on_screen(), on_screen()};
      case 2: {
        const Lab x = on_screen();
        return {x, near(x, 3.0)};
      }
      case 3:
        return {{between(0, 100), between(-4, 4), between(-4, 4)},
                {between(0, 100), between(-4, 4), between(-4, 4)}};
      default:
        return {{between(-20, 120), between(-400, 400), between(-400, 400)},
                {between(-20, 120), between(-400, 400), between(-400, 400)}};
    }
  }

 private:
  std::mt19937_64 engine_;
};

}  // namespace kithue::test
