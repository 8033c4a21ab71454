// SPDX-License-Identifier: MIT
#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>

#include "advise/dice.h"
#include "advise/words.h"
#include "colour/css.h"

using namespace kithue;

namespace {

struct Pair {
  Lab from, to;
};

/// Pairs of every kind: any two colours, neighbours, near-neutrals.
std::vector<Pair> many_pairs(int count) {
  Dice dice(20061);
  std::vector<Pair> pairs;
  for (int i = 0; i < count; ++i) {
    const double reach = i % 3 == 2 ? 11.0 : 90.0;
    const Lab from{dice.between(5, 98), dice.between(-reach, reach), dice.between(-reach, reach)};
    const double step = i % 3 == 0 ? 180.0 : 12.0;
    const Lab to{std::clamp(from.L + dice.between(-step, step), 0.0, 100.0),
                 from.a + dice.between(-step, step), from.b + dice.between(-step, step)};
    pairs.push_back({from, to});
  }
  return pairs;
}

double pole_degrees(Direction direction) {
  switch (direction) {
    case Direction::redder:
    case Direction::pinker:
      return 0.0;
    case Direction::warmer:
      return 45.0;
    case Direction::yellower:
      return 90.0;
    case Direction::greener:
      return 180.0;
    case Direction::cooler:
      return 225.0;
    case Direction::bluer:
      return 270.0;
    default:
      return -1.0;
  }
}

/// Along the axis that the word names, and for two coloured swatches less than a quarter turn apart the hue
/// itself turns that way.
bool goes_towards(const Pair& pair, double pole) {
  const double x = std::cos(pole * 3.14159265358979323846 / 180.0);
  const double y = std::sin(pole * 3.14159265358979323846 / 180.0);
  const double da = pair.to.a - pair.from.a;
  const double db = pair.to.b - pair.from.b;
  if (x > 0.1 && da <= 0.0) return false;
  if (x < -0.1 && da >= 0.0) return false;
  if (y > 0.1 && db <= 0.0) return false;
  if (y < -0.1 && db >= 0.0) return false;
  if (std::max(chroma(pair.from), chroma(pair.to)) < 12.0 || chroma(pair.from) < 4.0) return true;
  const double h1 = hue_degrees(pair.from);
  const double h2 = hue_degrees(pair.to);
  if (hue_gap_degrees(h1, h2) > 90.0) return true;
  // The turn is anticlockwise when the cross product is positive; the pole must lie that way.
  const double turn = pair.from.a * pair.to.b - pair.from.b * pair.to.a;
  const double pole_side = pair.from.a * y - pair.from.b * x;
  return turn * pole_side > 0.0;
}

}  // namespace

TEST_CASE("difference_words: every word agrees with the signs on 30,000 generated pairs") {
  int hue_words = 0;
  int silent = 0;
  for (const Pair& pair : many_pairs(30000)) {
    const auto words = difference_parts(pair.from, pair.to);
    if (words.empty()) ++silent;
    for (const DifferenceWord& word : words) {
      CAPTURE(css_lab(pair.from));
      CAPTURE(css_lab(pair.to));
      CAPTURE(std::string(word_for(word.direction)));
      switch (word.direction) {
        case Direction::lighter:
          REQUIRE(pair.to.L > pair.from.L);
          break;
        case Direction::darker:
          REQUIRE(pair.to.L < pair.from.L);
          break;
        case Direction::brighter:
          REQUIRE(chroma(pair.to) > chroma(pair.from));
          break;
        case Direction::duller:
          REQUIRE(chroma(pair.to) < chroma(pair.from));
          break;
        default:
          ++hue_words;
          REQUIRE(goes_towards(pair, pole_degrees(word.direction)));
      }
    }
  }
  CHECK(hue_words > 10000);
  CHECK(silent < 1000);
}

TEST_CASE("difference_words: there and back says the opposite of lightness and chroma, as much") {
  for (const Pair& pair : many_pairs(3000)) {
    for (const DifferenceWord& word : difference_parts(pair.from, pair.to)) {
      if (word.direction > Direction::duller) continue;
      const auto opposite = static_cast<Direction>(static_cast<int>(word.direction) ^ 1);
      if (std::min(chroma(pair.from), chroma(pair.to)) < 4.0) continue;
      const auto back = difference_parts(pair.to, pair.from);
      CHECK(std::find(back.begin(), back.end(), DifferenceWord{opposite, word.amount}) != back.end());
    }
  }
}

TEST_CASE("difference_words: a small part beside a large one is not mentioned") {
  CHECK(difference_words({50, 20, 20}, {80, 21, 20}) == "much lighter");
}

TEST_CASE("difference_words: the scale runs from a touch to much") {
  CHECK(difference_words({50, 0, 0}, {49, 0, 0}) == "a touch darker");
  CHECK(difference_words({50, 0, 0}, {54, 0, 0}) == "lighter");
  CHECK(difference_words({50, 0, 0}, {70, 0, 0}) == "much lighter");
  CHECK(difference_words({50, 0, 0}, {50.1, 0, 0}) == "hardly any difference");
  CHECK(difference_words({50, 1, 2}, {50, 1, 2}) == "no difference");
}

TEST_CASE("difference_words: hue words a person would use") {
  CHECK(difference_words({85, 3, 2}, {85, 8, 2}) == "pinker");         // two light near-neutrals
  CHECK(difference_words({94, 0, 2}, {94, 0.5, 7}) == "yellower");     // white beside cream
  CHECK(difference_words({94, 0.5, 7}, {94, 0, 2}) == "less yellow");  // and back
  CHECK(difference_words({94, 0, 1}, {94, 0, -3}) == "bluer");
  CHECK(difference_words({50, 45, 30}, {50, 43, 34}) == "yellower");          // red towards orange
  CHECK(difference_words({50, 60, 35}, {50, 46, 34}) == "less red, duller");  // b* fell: not "yellower"
  CHECK(difference_words({45, -30, -20}, {45, -32, -14}) == "less blue");     // teal towards green
  CHECK(difference_words({45, -32, -14}, {45, -30, -20}) == "bluer");
  CHECK(difference_words({60, 30, 5}, {60, 28, 12}) == "yellower");
  CHECK(difference_words({50, 3, 1}, {50, 7, 5}) == "warmer");
  CHECK(difference_words({50, -1, 1}, {50, -4, -1}) == "cooler");
  CHECK(difference_words({50, 30, 20}, {50, 24, 16}) == "duller");
}
