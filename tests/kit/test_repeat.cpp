// SPDX-License-Identifier: MIT
#include <doctest/doctest.h>

#include <cmath>
#include <random>

#include "colour/difference.h"
#include "kit/repeat.h"

using namespace kithue;

namespace {

std::vector<KitColour> palette(std::mt19937_64& dice, std::size_t colours) {
  std::uniform_real_distribution<double> any(0.0, 1.0);
  std::vector<KitColour> list;
  for (std::size_t i = 0; i < colours; ++i)
    list.push_back(
        {{20 + 75 * any(dice), 80 * any(dice) - 40, 80 * any(dice) - 40}, any(dice) / 8, "motif", 0.0});
  return list;
}

}  // namespace

TEST_CASE("repeat: a palette is at 0 from itself, in any order, and as far one way as the other") {
  std::mt19937_64 dice(51);
  for (int i = 0; i < 50; ++i) {
    const auto a = palette(dice, 1 + i % 7);
    const auto b = palette(dice, 1 + i % 5);
    CHECK(palette_distance(a, a) == 0.0);
    CHECK(palette_distance({a.rbegin(), a.rend()}, a) == 0.0);
    CHECK(std::abs(palette_distance(a, b) - palette_distance(b, a)) < 1e-12);
  }
  CHECK(std::isnan(palette_distance({}, palette(dice, 2))));
}

TEST_CASE("repeat: the distance of single colours is CIEDE2000, and shares weigh as square roots") {
  const KitColour red{{50, 60, 30}, 0.64, "motif", 0.0};
  const KitColour blue{{40, 0, -40}, 0.16, "motif", 0.0};
  const double apart = ciede2000(red.lab, blue.lab);
  CHECK(std::abs(palette_distance({red}, {blue}) - apart) < 1e-12);
  // By hand: of {red, blue} the blue is `apart` from red, with 0.4 of a weight of 1.2; of {red} nothing is.
  CHECK(std::abs(palette_distance({red, blue}, {red}) - apart * (0.4 / 1.2) / 2.0) < 1e-9);
}

TEST_CASE("repeat: a kit that was shaken a little is found among sixty") {
  std::mt19937_64 dice(52);
  std::normal_distribution<double> noise(0.0, 0.5);
  std::vector<PastKit> past;
  for (int i = 0; i < 60; ++i) past.push_back({"kit " + std::to_string(i), "", palette(dice, 40)});
  for (std::size_t i = 0; i < past.size(); i += 7) {
    PastKit again = past[i];
    for (KitColour& colour : again.colours) {
      colour.lab.L += noise(dice);
      colour.lab.a += noise(dice);
      colour.lab.b += noise(dice);
    }
    const auto found = nearest_kits(again, past);
    REQUIRE(found.size() == 60);
    CHECK(found[0].kit == i);
    CHECK(words_for_repeat(found[0].de00) == "much the same palette");
  }
}

TEST_CASE("repeat: a history file gives back what was written; faults name their line") {
  std::mt19937_64 dice(53);
  const std::vector<PastKit> past{{"Harbour, \"Morning\"", "2026-03", palette(dice, 5)},
                                  {"-dunes", "", palette(dice, 3)},
                                  {"-dunes", "2025", palette(dice, 2)}};
  const auto back = history_from_csv(history_csv(past), "h.csv");
  REQUIRE(back.has_value());
  REQUIRE(back->size() == 3);
  for (std::size_t i = 0; i < 3; ++i) {
    CHECK((*back)[i].name == past[i].name);
    CHECK((*back)[i].date == past[i].date);
    CHECK(palette_distance((*back)[i].colours, past[i].colours) == 0.0);
  }
  const auto wrong =
      history_from_csv("kit,date,L,a,b,share,role\nK,,50,1,2,0.5,motif\nK,,50,1,nan,0.5,motif\n", "h.csv");
  REQUIRE(!wrong.has_value());
  CHECK(wrong.error().where == "h.csv:3");
}
