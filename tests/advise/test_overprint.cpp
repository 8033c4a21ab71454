// SPDX-License-Identifier: MIT
#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>
#include <map>
#include <string>
#include <vector>

#include "advise/dice.h"
#include "advise/overprint.h"
#include "base/files.h"
#include "base/text.h"
#include "colour/css.h"
#include "colour/difference.h"
#include "places.h"

using namespace kithue;

namespace {

struct Case {
  std::string kind;
  Layer paper, ink, stock;
  Lab measured;
};

/// Measured prints: tests/data/advise/ink_on_stock.csv names its sources.
const std::vector<Case>& measured_cases() {
  static const std::vector<Case> kCases = [] {
    std::vector<Case> cases;
    const auto text = read_file(std::string(tests::kTestData) + "/advise/ink_on_stock.csv", 1 << 20);
    REQUIRE(text);
    for (const std::string_view line : split(*text, '\n')) {
      const auto fields = split(line, ',');
      if (line.starts_with('#') || line.starts_with("kind,") || fields.size() != 18) continue;
      const auto lab = [&](std::size_t at) {
        return Lab{*parse_number(fields[at]), *parse_number(fields[at + 1]), *parse_number(fields[at + 2])};
      };
      cases.push_back(
          {std::string(fields[0]), layer_of(lab(6)), layer_of(lab(9)), layer_of(lab(12)), lab(15)});
    }
    return cases;
  }();
  return kCases;
}

}  // namespace

TEST_CASE("overprint_colour: errors on measured prints stay under the published-style models'") {
  struct Sum {
    double mean = 0.0;
    double most = 0.0;
    int count = 0;
  };
  std::map<std::string, Sum> sums;
  for (const Case& one : measured_cases()) {
    const double d = ciede2000(overprint_colour(one.ink, one.paper, one.stock), one.measured);
    Sum& sum = sums[one.kind];
    sum.mean += d;
    sum.most = std::max(sum.most, d);
    ++sum.count;
  }
  REQUIRE(sums["solid"].count == 27);
  REQUIRE(sums["tint"].count == 945);
  REQUIRE(sums["black"].count == 196);
  // In sample; tools/overprint_fit prints the figures with each data set left out.
  CHECK(sums["solid"].mean / 27 < 2.6);
  CHECK(sums["solid"].most < 5.5);
  CHECK(sums["tint"].mean / 945 < 2.5);
  CHECK(sums["black"].mean / 196 < 4.0);
}

TEST_CASE("overprint_error: the stated band holds nine errors in ten, and is not far too wide") {
  int inside = 0;
  double errors = 0.0;
  double bands = 0.0;
  for (const Case& one : measured_cases()) {
    const double d = ciede2000(overprint_colour(one.ink, one.paper, one.stock), one.measured);
    const double band = overprint_error(one.ink, one.paper, one.stock);
    inside += d <= band ? 1 : 0;
    errors += d;
    bands += band;
  }
  const auto all = static_cast<double>(measured_cases().size());
  CHECK(inside / all > 0.90);
  CHECK(bands < 3.0 * errors);
}

TEST_CASE("overprint_colour: on the paper of its reading an ink keeps its colour") {
  Dice dice(31);
  for (int i = 0; i < 300; ++i) {
    const Layer ink = layer_of(dice.lab(40));
    const Layer paper = layer_of({95, 0, -2});
    CHECK(overprint_colour(ink, paper, paper) == ink.lab);
    // and nearly so on a paper that is hardly another
    const Layer other = layer_of({94.99, 0, -2});
    if (ink.lab.L < 90) CHECK(ciede2000(overprint_colour(ink, paper, other), ink.lab) < 0.1);
  }
}

TEST_CASE("overprint_colour: an opaque ink keeps its colour on any stock; more cover hides more") {
  Dice dice(32);
  const Layer paper = layer_of({95, 0, -2});
  for (int i = 0; i < 200; ++i) {
    const Layer ink = layer_of(dice.lab(35));
    const Layer stock = layer_of(dice.lab(35));
    if (ciede2000(lab_from_curve(ink.curve), ink.lab) > 1e-6) continue;
    CHECK(ciede2000(overprint_colour(ink, paper, stock, {1.0, 1.0}), ink.lab) < 1e-6);
    const double bare = std::fabs(overprint_colour(ink, paper, stock, {1.0, 0.0}).L - ink.lab.L);
    const double half = std::fabs(overprint_colour(ink, paper, stock, {1.0, 0.5}).L - ink.lab.L);
    CHECK(half <= bare + 1e-9);
  }
}

TEST_CASE("overprint_colour: a stronger impression of a dark ink is darker, a weaker one lighter") {
  Dice dice(33);
  const Layer paper = layer_of({95, 0, -2});
  for (int i = 0; i < 200; ++i) {
    const Layer ink = layer_of({dice.between(20, 60), dice.between(-20, 20), dice.between(-20, 20)});
    const Layer stock = layer_of({dice.between(50, 95), dice.between(-15, 15), dice.between(-15, 15)});
    const double off = overprint_colour(ink, paper, stock, {0.5, 0.0}).L;
    const double once = overprint_colour(ink, paper, stock).L;
    const double twice = overprint_colour(ink, paper, stock, {1.5, 0.0}).L;
    CHECK(off > once);
    CHECK(once > twice);
  }
}

TEST_CASE("overprint_colour: every colour in gives a finite colour out") {
  Dice dice(34);
  for (int i = 0; i < 500; ++i) {
    const Lab ink{dice.between(-5, 110), dice.between(-120, 120), dice.between(-120, 120)};
    const Lab stock{dice.between(-5, 110), dice.between(-120, 120), dice.between(-120, 120)};
    CAPTURE(css_lab(ink));
    CAPTURE(css_lab(stock));
    const Lab print = overprint_colour(layer_of(ink), layer_of(dice.lab(10)), layer_of(stock), {1.5, 0.3});
    REQUIRE((std::isfinite(print.L) && std::isfinite(print.a) && std::isfinite(print.b)));
  }
}

TEST_CASE("fitted_manner: finds the strength and cover that made the readings") {
  Dice dice(35);
  const Layer ink = layer_of({45, 20, -25});
  const Layer paper = layer_of({95, 0, -2});
  const InkManner truth{1.2, 0.3};
  std::vector<OverprintReading> readings;
  for (int i = 0; i < 12; ++i) {
    const Layer stock = layer_of({dice.between(40, 90), dice.between(-25, 25), dice.between(-25, 25)});
    readings.push_back({stock, overprint_colour(ink, paper, stock, truth)});
  }
  const InkManner found = fitted_manner(ink, paper, readings, {});
  CHECK(std::fabs(found.strength - truth.strength) < 0.1);
  CHECK(std::fabs(found.cover - truth.cover) < 0.06);
  const InkManner start{0.9, 0.4};
  const InkManner kept = fitted_manner(ink, paper, {}, start);
  CHECK((kept.strength == 0.9 && kept.cover == 0.4));
}

TEST_CASE("fitted_manner: measured overprints improve the ink's other stocks on real prints") {
  // Solid inks over tints, every second stock as a reading, the others predicted.
  std::vector<double> before;
  std::vector<double> after;
  const auto& cases = measured_cases();
  for (std::size_t first = 0; first < cases.size();) {
    std::size_t end = first;
    while (end < cases.size() && cases[end].kind == cases[first].kind &&
           cases[end].ink.lab == cases[first].ink.lab)
      ++end;
    std::vector<OverprintReading> readings;
    for (std::size_t k = first; k < end && readings.size() < 12; k += 3)
      readings.push_back({cases[k].stock, cases[k].measured});
    const InkManner manner = fitted_manner(cases[first].ink, cases[first].paper, readings, {});
    for (std::size_t k = first; k < end && end - first > 12; ++k) {
      if ((k - first) % 3 == 0) continue;
      before.push_back(
          ciede2000(overprint_colour(cases[k].ink, cases[k].paper, cases[k].stock), cases[k].measured));
      after.push_back(ciede2000(overprint_colour(cases[k].ink, cases[k].paper, cases[k].stock, manner),
                                cases[k].measured));
    }
    first = end;
  }
  REQUIRE(after.size() > 300);
  std::sort(before.begin(), before.end());
  std::sort(after.begin(), after.end());
  CHECK(after[after.size() / 2] < 4.0);
  CHECK(after[after.size() * 95 / 100] < 8.0);
  CHECK(after[after.size() * 95 / 100] < before[before.size() * 95 / 100]);
}
