// SPDX-License-Identifier: MIT
#include <doctest/doctest.h>

#include <cmath>
#include <string>
#include <string_view>

#include "colour/white.h"

using namespace kithue;

namespace {

/// ASTM E308, Tables 5 (2 degree observer) and 6 (10 degree), 1 nm white points, on the scale Y = 100.
struct Row {
  std::string_view name;
  double X, Z;
};
constexpr Row kE308[] = {
    {"A/2", 109.850, 35.585},    {"C/2", 98.074, 118.232},    {"D55/2", 95.682, 92.149},
    {"D65/2", 95.047, 108.883},  {"D75/2", 94.972, 122.638},  {"F2/2", 99.186, 67.393},
    {"F7/2", 95.041, 108.747},   {"F11/2", 100.962, 64.350},  {"A/10", 111.144, 35.200},
    {"C/10", 97.285, 116.145},   {"D50/10", 96.720, 81.427},  {"D55/10", 95.799, 90.926},
    {"D65/10", 94.811, 107.304}, {"D75/10", 94.416, 120.641}, {"F2/10", 103.279, 69.027},
    {"F7/10", 95.792, 107.686},  {"F11/10", 103.863, 65.607},
};

}  // namespace

TEST_CASE("find_white: every white of ASTM E308, to its last digit") {
  for (const Row& row : kE308) {
    CAPTURE(row.name);
    const auto white = find_white(row.name);
    REQUIRE(white.has_value());
    CHECK(white->name == row.name);
    CHECK(std::fabs(white->xyz.X * 100.0 - row.X) < 1e-9);
    CHECK(white->xyz.Y == 1.0);
    CHECK(std::fabs(white->xyz.Z * 100.0 - row.Z) < 1e-9);
  }
}

TEST_CASE("find_white: D50 with 2 degrees is the program's one white, within 0.0004 of E308's") {
  const auto white = find_white("D50/2");
  REQUIRE(white.has_value());
  CHECK(white->xyz == kD50);
  CHECK(kD50 == Xyz{0.9642, 1.0, 0.8249});  // ICC.1:2022, 7.2.16
  CHECK(std::fabs(white->xyz.X - 0.96422) < 0.0004);
  CHECK(std::fabs(white->xyz.Z - 0.82521) < 0.0004);
}

TEST_CASE("known_whites: the table, D50/2 and equal energy, each once") {
  CHECK(known_whites().size() == std::size(kE308) + 2);
  for (const White& white : known_whites()) {
    CAPTURE(white.name);
    CHECK(find_white(white.name)->name == white.name);
    CHECK(white.xyz.Y == 1.0);
  }
}

TEST_CASE("find_white: forgives how it is written") {
  for (const char* spelling : {"D65/10", "d65/10", "D65 10", "D65-10", "d65_10", "D65/10°", " D65/10 ",
                               "D65 / 10", "D65/10 deg", "D65/10 degrees", "D65-10 degree"}) {
    CAPTURE(spelling);
    const auto white = find_white(spelling);
    REQUIRE(white.has_value());
    CHECK(white->name == "D65/10");
  }
  CHECK(find_white("FL2/2")->name == "F2/2");
  CHECK(find_white("fl11 10")->name == "F11/10");
  CHECK(find_white("a/2")->name == "A/2");
}

TEST_CASE("find_white: never guesses the observer or the light") {
  for (const char* wrong : {"", "D65", "D50", "10", "/2", "D65/", "D65/5", "D65/100", "D60/2", "65/10",
                            "D65/2/10", "D6510", "F/2", "X/2", "white", "D65/10 nm"}) {
    CAPTURE(wrong);
    CHECK_FALSE(find_white(wrong).has_value());
  }
}
