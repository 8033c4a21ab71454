// SPDX-License-Identifier: MIT
#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>
#include <set>
#include <tuple>

#include "advise/clash.h"
#include "advise/dice.h"
#include "advise/standin.h"
#include "advise/swatches.h"
#include "advise/words.h"
#include "colour/difference.h"

using namespace kithue;

namespace {

Stash random_stash(Dice& dice, int count) {
  Stash stash;
  for (int i = 1; i <= count; ++i) {
    stash.swatches.push_back(swatch_with(i,
                                         std::string("Shell ") + static_cast<char>('A' + dice.whole(0, 25)),
                                         dice.chance(0.5) ? Kind::stock : Kind::ink, dice.lab(40)));
    stash.swatches.back().retired = dice.chance(0.1);
    stash.swatches.back().in_stock = !dice.chance(0.1);
    if (dice.chance(0.05)) stash.swatches.back().finish = Finish::unmeasurable;
  }
  stash.next_id = count + 1;
  return stash;
}

std::vector<NamedColour> colours_of(const Stash& stash, int count) {
  std::vector<NamedColour> colours;
  for (const Swatch& swatch : stash.swatches) {
    if (static_cast<int>(colours.size()) == count) break;
    if (auto colour = named_colour_of(swatch)) colours.push_back(*colour);
  }
  return colours;
}

}  // namespace

TEST_CASE("stand_ins: order equals brute force; retired, out of stock and the colour itself never offered") {
  Dice dice(12);
  for (int round = 0; round < 300; ++round) {
    const Stash stash = random_stash(dice, 60);
    const auto kit = colours_of(stash, 5);
    const NamedColour& missing = kit[dice.index(kit.size())];
    std::vector<std::tuple<double, std::string, int>> all;
    for (const Swatch& swatch : stash.swatches) {
      const auto lab = colour_of(swatch);
      if (!lab || swatch.retired || !swatch.in_stock || &swatch == missing.swatch) continue;
      if (swatch.kind != missing.swatch->kind) continue;
      all.emplace_back(ciede2000(missing.lab, *lab), swatch.name, swatch.id);
    }
    std::sort(all.begin(), all.end());
    StandInOptions options;
    options.count = 0;
    const auto found = stand_ins(stash, missing, kit, options);
    REQUIRE(found.size() == all.size());
    for (std::size_t i = 0; i < found.size(); ++i) CHECK(found[i].match.swatch->id == std::get<2>(all[i]));
  }
}

TEST_CASE("stand_ins: exactly the offers that bring a new clash into the kit are marked") {
  Dice dice(13);
  int marked = 0;
  for (int round = 0; round < 60; ++round) {
    const Stash stash = random_stash(dice, 50);
    const auto kit = colours_of(stash, 6);
    const NamedColour& missing = kit[0];
    StandInOptions options;
    options.count = 0;
    for (const StandIn& one : stand_ins(stash, missing, kit, options)) {
      std::vector<std::string> expected;
      for (std::size_t k = 1; k < kit.size(); ++k) {
        if (kit[k].swatch == one.match.swatch) continue;
        const auto offered = named_colour_of(*one.match.swatch);
        if (is_clash(judge_pair(*offered, kit[k]).verdict) && !is_clash(judge_pair(missing, kit[k]).verdict))
          expected.push_back(kit[k].name);
      }
      CHECK(one.near_misses == expected);
      marked += expected.empty() ? 0 : 1;
      CHECK(one.good == (one.match.de00 <= 6.0));
    }
  }
  CHECK(marked > 20);
}

TEST_CASE("stand_ins: the words agree with the signs on 300 generated pairs") {
  Dice dice(14);
  int checked = 0;
  for (int i = 0; i < 300; ++i) {
    Stash stash;
    const Lab from = dice.lab(50);
    const Lab to{from.L + dice.between(-15, 15), from.a + dice.between(-15, 15),
                 from.b + dice.between(-15, 15)};
    stash.swatches = {swatch_with(1, "offer", Kind::ink, to)};
    const auto found = stand_ins(stash, {"wanted", from, 0.0, nullptr}, {}, {});
    REQUIRE(found.size() == 1);
    const std::string& words = found[0].match.words;
    CAPTURE(words);
    if (words.find("lighter") != std::string::npos) CHECK(to.L > from.L);
    if (words.find("darker") != std::string::npos) CHECK(to.L < from.L);
    if (words.find("brighter") != std::string::npos) CHECK(chroma(to) > chroma(from));
    if (words.find("duller") != std::string::npos) CHECK(chroma(to) < chroma(from));
    if (words.find("warmer") != std::string::npos) CHECK((to.a > from.a && to.b > from.b));
    if (words.find("cooler") != std::string::npos) CHECK((to.a < from.a && to.b < from.b));
    if (words.find("yellower") != std::string::npos) CHECK(to.b > from.b);
    if (words.find("bluer") != std::string::npos) CHECK(to.b < from.b);
    checked += words.find("difference") == std::string::npos ? 1 : 0;
  }
  CHECK(checked > 290);
}

TEST_CASE("stand_ins_one_to_one: no swatch twice, and no other choice has a smaller total") {
  Dice dice(15);
  for (int round = 0; round < 100; ++round) {
    const Stash range = random_stash(dice, 12);
    std::vector<NamedColour> missing;
    missing.reserve(3);
    for (int i = 0; i < 3; ++i) missing.push_back({std::to_string(i), dice.lab(40), 0.0, nullptr});
    std::vector<Lab> offered;
    for (const Swatch& swatch : range.swatches) {
      if (!swatch.retired && swatch.in_stock && colour_of(swatch)) offered.push_back(*colour_of(swatch));
    }
    if (offered.size() < 3) continue;
    const auto found = stand_ins_one_to_one(range, missing, missing, {});
    double total = 0.0;
    std::set<int> ids;
    for (const auto& one : found) {
      REQUIRE(one.has_value());
      total += one->match.de00;
      ids.insert(one->match.swatch->id);
    }
    CHECK(ids.size() == 3);
    double least = 1e300;
    for (std::size_t a = 0; a < offered.size(); ++a) {
      for (std::size_t b = 0; b < offered.size(); ++b) {
        for (std::size_t c = 0; c < offered.size(); ++c) {
          if (a == b || b == c || a == c) continue;
          least =
              std::min(least, ciede2000(missing[0].lab, offered[a]) + ciede2000(missing[1].lab, offered[b]) +
                                  ciede2000(missing[2].lab, offered[c]));
        }
      }
    }
    CHECK(std::fabs(total - least) < 1e-9);
  }
}

TEST_CASE("stand_ins_one_to_one: a range that runs out, and a colour with nothing near, are said") {
  Stash range;
  range.swatches = {swatch_with(1, "Tide", Kind::ink, {50, 0, -20})};
  const std::vector<NamedColour> missing{{"Deep", {50, 0, -21}, 0.0, nullptr},
                                         {"Sun", {85, 5, 80}, 0.0, nullptr}};
  const auto found = stand_ins_one_to_one(range, missing, missing, {});
  REQUIRE(found.size() == 2);
  REQUIRE(found[0].has_value());
  CHECK(found[0]->good);
  CHECK_FALSE(found[1].has_value());
  const auto far = stand_ins_one_to_one(range, {missing[1]}, missing, {});
  REQUIRE(far[0].has_value());
  CHECK_FALSE(far[0]->good);
}
