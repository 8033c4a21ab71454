// SPDX-License-Identifier: MIT
#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>

#include "advise/clash.h"
#include "advise/dice.h"
#include "advise/swatches.h"
#include "colour/css.h"
#include "colour/difference.h"

using namespace kithue;

namespace {

NamedColour colour(const char* name, const Lab& lab, double uncertainty = 0.0) {
  return {name, lab, uncertainty, nullptr};
}

Verdict verdict(const Lab& a, const Lab& b) {
  return judge_pair(colour("A", a), colour("B", b)).verdict;
}

/// The table of limits read off line by line, without any error in the numbers.
Verdict plainly(const Lab& a, const Lab& b) {
  const double d = ciede2000(a, b);
  if (d <= 1.0) return Verdict::same;
  if (d <= 2.0) return Verdict::match;
  const double gap = hue_gap_degrees(hue_degrees(a), hue_degrees(b));
  const double dL = std::fabs(a.L - b.L);
  const DifferenceTerms t = ciede2000_terms(a, b);
  const double lean = std::sqrt(std::max(0.0, t.chroma * t.chroma + t.hue * t.hue + t.RT * t.chroma * t.hue));
  if (chroma(a) < 12 && chroma(b) < 12 && gap > 60 && dL <= 25 && lean > 2) return Verdict::undertone;
  if (chroma(a) > 50 && chroma(b) > 50 && dL <= 10 && gap >= 150) return Verdict::vibration;
  return d <= 6.0 ? Verdict::near_miss : d <= 12.0 ? Verdict::step : Verdict::distinct;
}

std::vector<NamedColour> random_colours(std::size_t count, unsigned seed) {
  Dice dice(seed);
  std::vector<NamedColour> colours;
  for (std::size_t i = 0; i < count; ++i) {
    const double reach = i % 2 == 0 ? 12.0 : 80.0;
    colours.push_back({std::to_string(i),
                       {dice.between(40, 95), dice.between(-reach, reach), dice.between(-reach, reach)},
                       i % 3 == 0 ? 0.0 : dice.between(0, 1.5),
                       nullptr});
  }
  return colours;
}

}  // namespace

// Limits: common practice, no source.
TEST_CASE("judge_pair: the bands of touching stocks") {
  CHECK(verdict({50, 0, 0}, {50, 0, 0}) == Verdict::same);
  CHECK(verdict({50, 0, 0}, {51.5, 0, 0}) == Verdict::match);
  CHECK(verdict({50, -5, -40}, {53, -3, -36.5}) == Verdict::near_miss);
  CHECK(verdict({50, 20, 20}, {60, 20, 20}) == Verdict::step);
  CHECK(verdict({25, 5, -30}, {94, 1, 12}) == Verdict::distinct);
}

TEST_CASE("judge_pair: pinkish white beside yellowish white is a clash of undertone") {
  const PairVerdict pair = judge_pair(colour("Shell", {94, 6, 1}), colour("Cream", {93, -1, 9}));
  CHECK(pair.verdict == Verdict::undertone);
  REQUIRE(pair.reasons.size() == 1);
  CHECK(pair.reasons[0].find("Shell leans pink") != std::string::npos);
  CHECK(pair.reasons[0].find("Cream leans yellow") != std::string::npos);
}

TEST_CASE("judge_pair: greys too pale in hue to lean, and light beside dark, are no undertone") {
  CHECK(verdict({70, 0.3, 0}, {80, 0, 0.3}) == Verdict::step);
  CHECK(verdict({40, -2, -6}, {94, 1, 10}) == Verdict::distinct);
}

TEST_CASE("judge_pair: vivid near-opposites of one lightness vibrate") {
  CHECK(verdict({50, 60, 40}, {52, -55, -38}) == Verdict::vibration);
  CHECK(verdict({50, 60, 40}, {70, -55, -38}) == Verdict::distinct);  // lightness keeps them apart
  CHECK(verdict({50, 60, 40}, {52, -20, -14}) == Verdict::distinct);  // one of them is not vivid
}

TEST_CASE("judge_pair: without error the verdict is the plain table's on 20,000 pairs") {
  Dice dice(3);
  int seen[8] = {};
  for (int i = 0; i < 20000; ++i) {
    const double reach = i % 4 == 0 ? 9.0 : 70.0;
    const Lab a{dice.between(20, 95), dice.between(-reach, reach), dice.between(-reach, reach)};
    const double step = i % 2 == 0 ? 8.0 : 2 * reach;
    Lab b{a.L + dice.between(-10, 10), a.a + dice.between(-step, step), a.b + dice.between(-step, step)};
    if (i % 5 == 0) b = {a.L + dice.between(-12, 12), -a.a, -a.b};
    const Verdict said = verdict(a, b);
    CAPTURE(css_lab(a));
    CAPTURE(css_lab(b));
    REQUIRE(said == plainly(a, b));
    ++seen[static_cast<int>(said)];
  }
  for (int v = 0; v < 7; ++v) CHECK(seen[v] > 20);
}

TEST_CASE("judge_pair: an error that reaches over a limit makes it too close to call") {
  const Lab a{50, 0, 0};
  const Lab b{52.2, 0, 0};  // dE00 2.2: near-miss, 0.2 past the limit
  CHECK(judge_pair(colour("A", a, 0.1), colour("B", b, 0.1)).verdict == Verdict::near_miss);
  const PairVerdict pair = judge_pair(colour("A", a, 0.1), colour("B", b, 0.4));
  CHECK(pair.verdict == Verdict::unsure);
  CHECK(pair.could_be == std::vector<Verdict>{Verdict::match, Verdict::near_miss});
  CHECK(pair.settle == "measure B, known only to about 0.4");
  REQUIRE(pair.reasons.size() == 1);
  CHECK(pair.reasons[0].starts_with("too close to call: match or near-miss"));
}

TEST_CASE("judge_pair: what settles it depends on why the colour is uncertain") {
  Swatch scattered = swatch_with(1, "Drift", Kind::stock, {50, 0, 0});
  scattered.readings.push_back(scattered.readings[0]);
  scattered.readings[0].lab.L = 48.8;
  scattered.readings[1].lab.L = 51.2;
  Swatch photographed = swatch_with(2, "Foam", Kind::stock, {52.5, 0, 0});
  photographed.readings[0].error_de00 = 3.0;
  const NamedColour a{"Drift", *colour_of(scattered), uncertainty_of(scattered), &scattered};
  const NamedColour b{"Foam", *colour_of(photographed), uncertainty_of(photographed), &photographed};
  const NamedColour plain = colour("Plain", {52.5, 0, 0});
  CHECK(judge_pair(a, plain).settle == "read Drift again a few times: its readings scatter by 1.2");
  CHECK(judge_pair(a, b).settle == "measure Foam with an instrument: its reading is only good to about 3.0");
}

TEST_CASE("judge_pair: two errors that reach no limit change nothing; a wide one never hides a sure clash") {
  for (const auto& one : random_colours(60, 5)) {
    for (const auto& other : random_colours(60, 6)) {
      const PairVerdict pair = judge_pair(one, other);
      const Verdict exact = plainly(one.lab, other.lab);
      CAPTURE(one.name);
      CAPTURE(other.name);
      if (pair.verdict != Verdict::unsure && !is_clash(exact)) CHECK(pair.verdict == exact);
      if (pair.verdict != Verdict::unsure && is_clash(exact)) CHECK(is_clash(pair.verdict));
      if (pair.verdict == Verdict::unsure) {
        CHECK(pair.could_be.size() > 1);
        CHECK(std::find(pair.could_be.begin(), pair.could_be.end(), exact) != pair.could_be.end());
      }
    }
  }
}

TEST_CASE("judge_pair: the order of the two changes no verdict, and every verdict has a reason") {
  const auto colours = random_colours(80, 11);
  for (std::size_t i = 0; i < colours.size(); ++i) {
    for (std::size_t k = i + 1; k < colours.size(); ++k) {
      const PairVerdict pair = judge_pair(colours[i], colours[k]);
      CHECK(pair.verdict == judge_pair(colours[k], colours[i]).verdict);
      CHECK_FALSE(pair.reasons.empty());
    }
  }
}

TEST_CASE("judge_pairs: near-misses come first, those by hue at equal lightness before those by lightness") {
  const std::vector<NamedColour> colours{colour("base", {50, 40, 10}), colour("lighter", {54.5, 40, 10}),
                                         colour("other hue", {50, 38.5, 18}), colour("far", {90, 0, 0})};
  const auto pairs = judge_pairs(colours);
  REQUIRE(pairs.size() == 6);
  CHECK(pairs[0].verdict == Verdict::near_miss);
  CHECK((pairs[0].a == 0 && pairs[0].b == 2));
  CHECK(pairs[0].reasons.size() == 2);  // says that hue at equal lightness shows most
  CHECK(pairs[1].verdict == Verdict::near_miss);
  CHECK((pairs[1].a == 0 && pairs[1].b == 1));
  for (std::size_t i = 1; i < pairs.size(); ++i) {
    CHECK_FALSE((is_clash(pairs[i].verdict) && !is_clash(pairs[i - 1].verdict)));
  }
}

TEST_CASE("judge_all: the same verdicts as one pair at a time, in order") {
  const auto colours = random_colours(40, 21);
  const auto all = judge_all(colours);
  std::size_t next = 0;
  for (std::size_t i = 0; i < colours.size(); ++i) {
    for (std::size_t k = i + 1; k < colours.size(); ++k) {
      CHECK(all[next++].verdict == judge_pair(colours[i], colours[k]).verdict);
    }
  }
  CHECK(next == all.size());
  CHECK(judge_all({}).empty());
}

TEST_CASE("judge_pairs: threads that finish in another order change nothing") {
  class Backwards final : public Executor {
   public:
    void run(std::size_t count, const std::function<void(std::size_t)>& job) override {
      for (std::size_t i = count; i-- > 0;) job(i);
    }
    [[nodiscard]] std::size_t width() const override { return 7; }
  };
  Dice dice(64);
  std::vector<NamedColour> colours;
  for (int i = 0; i < 120; ++i)
    colours.push_back({"c" + std::to_string(i), dice.lab(40), dice.between(0, 1), nullptr});
  Backwards backwards;
  const auto one = judge_pairs(colours);
  const auto other = judge_pairs(colours, {}, backwards);
  REQUIRE(one.size() == 120 * 119 / 2);
  REQUIRE(other.size() == one.size());
  for (std::size_t i = 0; i < one.size(); ++i) {
    REQUIRE((one[i].a == other[i].a && one[i].b == other[i].b && one[i].verdict == other[i].verdict));
    REQUIRE(one[i].reasons == other[i].reasons);
  }
}
