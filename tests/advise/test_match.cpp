// SPDX-License-Identifier: MIT
#include <doctest/doctest.h>

#include <algorithm>
#include <tuple>

#include "advise/clash.h"
#include "advise/dice.h"
#include "advise/match.h"
#include "advise/swatches.h"
#include "advise/words.h"
#include "colour/difference.h"

using namespace kithue;

namespace {

Stash random_stash(int count, unsigned seed) {
  Dice dice(seed);
  Stash stash;
  for (int i = 1; i <= count; ++i) {
    // Few names and a coarse grid, so that distances and names tie.
    Swatch swatch =
        swatch_with(i, std::string("Shell ") + static_cast<char>('A' + dice.whole(0, 7)),
                    dice.whole(0, 1) == 0 ? Kind::stock : Kind::ink,
                    {10.0 * dice.whole(2, 9), 10.0 * dice.whole(-4, 4), 10.0 * dice.whole(-4, 4)});
    swatch.retired = dice.whole(0, 9) == 0;
    swatch.in_stock = dice.whole(0, 9) != 0;
    if (dice.whole(0, 9) == 0) swatch.finish = Finish::unmeasurable;
    if (dice.whole(0, 19) == 0) swatch.readings.clear();
    stash.swatches.push_back(swatch);
  }
  stash.next_id = count + 1;
  return stash;
}

/// Every allowed swatch, sorted in full by distance, name, id.
std::vector<int> by_brute_force(const Stash& stash, const NamedColour& wanted, const MatchOptions& options) {
  std::vector<std::tuple<double, std::string, int>> all;
  for (const Swatch& swatch : stash.swatches) {
    const auto lab = colour_of(swatch);
    if (!lab || &swatch == wanted.swatch) continue;
    if (options.kind && swatch.kind != *options.kind) continue;
    if (!options.with_retired && (swatch.retired || !swatch.in_stock)) continue;
    all.emplace_back(ciede2000(wanted.lab, *lab), swatch.name, swatch.id);
  }
  std::sort(all.begin(), all.end());
  if (options.count != 0 && all.size() > options.count) all.resize(options.count);
  std::vector<int> ids;
  ids.reserve(all.size());
  for (const auto& [de00, name, id] : all) ids.push_back(id);
  return ids;
}

}  // namespace

TEST_CASE("nearest_swatches: equals a full sort by distance, name and id on 300 random stashes") {
  Dice dice(7);
  for (unsigned seed = 0; seed < 300; ++seed) {
    const Stash stash = random_stash(dice.whole(0, 119), seed);
    NamedColour wanted{"wanted", {50, 10, -10}, 0.0, nullptr};
    if (!stash.swatches.empty() && seed % 2 == 0) {
      wanted.swatch = &stash.swatches[dice.index(stash.swatches.size())];
    }
    MatchOptions options;
    options.count = dice.index(12);
    options.with_retired = dice.chance(0.5);
    if (dice.chance(0.5)) options.kind = Kind::ink;
    std::vector<int> ids;
    for (const Match& match : nearest_swatches(stash, wanted, options)) ids.push_back(match.swatch->id);
    CAPTURE(seed);
    CHECK(ids == by_brute_force(stash, wanted, options));
  }
}

TEST_CASE("nearest_swatches: verdict and words are those of the pair") {
  const Stash stash = random_stash(60, 99);
  const NamedColour wanted{"lab(52 8 -9)", {52, 8, -9}, 0.0, nullptr};
  const auto matches = nearest_swatches(stash, wanted, {.count = 0});
  REQUIRE(matches.size() > 20);
  for (const Match& match : matches) {
    const auto other = named_colour_of(*match.swatch);
    REQUIRE(other.has_value());
    CHECK(match.verdict == judge_pair(wanted, *other).verdict);
    CHECK(match.words == difference_words(wanted.lab, match.lab));
    CHECK(match.de00 == ciede2000(wanted.lab, match.lab));
  }
}

TEST_CASE("nearest_swatches: scattered readings near a limit make the verdict unsure") {
  Stash stash;
  stash.swatches.push_back(swatch_with(1, "Low Tide", Kind::stock, {52, 0, 0}));
  const NamedColour wanted{"lab(50 0 0)", {50, 0, 0}, 0.0, nullptr};
  const auto sure = nearest_swatches(stash, wanted, {});
  REQUIRE(sure.size() == 1);
  CHECK(sure[0].verdict == Verdict::match);
  stash.swatches[0].readings[0].error_de00 = 0.5;
  const auto unsure = nearest_swatches(stash, wanted, {});
  CHECK(unsure[0].verdict == Verdict::unsure);
  CHECK(unsure[0].uncertainty == 0.5);
}

TEST_CASE("left_out_of_match: those without a number are named, not silently dropped") {
  Stash stash;
  stash.swatches.push_back(swatch_with(1, "Foil", Kind::stock, {50, 0, 0}));
  stash.swatches[0].finish = Finish::unmeasurable;
  stash.swatches.push_back(swatch_with(2, "Blank", Kind::stock, {50, 0, 0}));
  stash.swatches[1].readings.clear();
  stash.swatches.push_back(swatch_with(3, "Sand", Kind::stock, {80, 2, 10}));
  const auto out = left_out_of_match(stash, {"x", {50, 0, 0}, 0.0, nullptr}, {});
  REQUIRE(out.size() == 2);
  CHECK(out[0]->name == "Foil");
  CHECK(out[1]->name == "Blank");
}
