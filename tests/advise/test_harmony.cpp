// SPDX-License-Identifier: MIT
#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>
#include <set>

#include "advise/clash.h"
#include "advise/dice.h"
#include "advise/harmony.h"

using namespace kithue;

namespace {

std::vector<NamedColour> random_colours(Dice& dice, int count) {
  std::vector<NamedColour> colours;
  colours.reserve(static_cast<std::size_t>(count));
  for (int i = 0; i < count; ++i)
    colours.push_back({"C" + std::to_string(i), dice.lab(dice.chance(0.2) ? 9 : 65), 0.0, nullptr});
  return colours;
}

}  // namespace

TEST_CASE("harmony_sets: every member is within the tolerance, none is a neutral hue, no pair clashes") {
  Dice dice(41);
  std::set<Scheme> seen;
  for (int round = 0; round < 60; ++round) {
    const auto owned = random_colours(dice, 120);
    const NamedColour anchor{"anchor",
                             lab_from_lch({dice.between(30, 80), dice.between(20, 60), dice.between(0, 360)}),
                             0.0, nullptr};
    HarmonyOptions options;
    options.circle = round % 2 == 0 ? Circle::lab : Circle::painter;
    const double home = circle_degrees(hue_degrees(anchor.lab), options.circle);
    for (const HarmonySet& set : harmony_sets(anchor, owned, options)) {
      seen.insert(set.scheme);
      std::vector<NamedColour> members;
      for (const HarmonyMember& member : set.members) {
        members.push_back(member.colour);
        if (member.part == "anchor") continue;
        if (member.part == "neutral") {
          CHECK(chroma(member.colour.lab) < 12.0);
          continue;
        }
        CHECK(chroma(member.colour.lab) >= 12.0);
        const double at = circle_degrees(hue_degrees(member.colour.lab), options.circle);
        const double gap = hue_gap_degrees(at, std::fmod(home + member.wanted + 360.0, 360.0));
        CHECK(gap <= 15.0);
        CHECK(std::fabs(gap - member.off) < 1e-9);
        if (set.scheme == Scheme::ladder) CHECK(std::fabs(member.colour.lab.L - anchor.lab.L) >= 10.0);
      }
      for (const PairVerdict& pair : judge_pairs(members)) {
        CHECK((pair.verdict == Verdict::step || pair.verdict == Verdict::distinct));
      }
    }
  }
  CHECK(seen.size() == 6);
}

TEST_CASE("harmony_sets: a scheme without a fitting hue is not offered, and a grey anchor gives none") {
  const std::vector<NamedColour> owned{{"Lagoon", {50, -35, -25}, 0.0, nullptr},
                                       {"Fog", {80, 1, 2}, 0.0, nullptr}};
  const NamedColour coral{"Coral", {62, 45, 32}, 0.0, nullptr};  // hue 35; Lagoon is 216: opposite
  const auto sets = harmony_sets(coral, owned, {});
  REQUIRE(sets.size() == 1);
  CHECK(sets[0].scheme == Scheme::opposite);
  REQUIRE(sets[0].members.size() == 3);
  CHECK(sets[0].members[1].colour.name == "Lagoon");
  CHECK(sets[0].members[2].part == "neutral");
  CHECK(harmony_sets(owned[1], owned, {}).empty());
}

TEST_CASE("harmony_sets: a vivid opposite of the same lightness would vibrate and is passed over") {
  const NamedColour red{"Red", {50, 60, 30}, 0.0, nullptr};
  const std::vector<NamedColour> owned{{"Glare", {51, -58, -29}, 0.0, nullptr},
                                       {"Deep", {30, -40, -24}, 0.0, nullptr}};
  const auto sets = harmony_sets(red, owned, {});
  REQUIRE(sets.size() == 1);
  CHECK(sets[0].members[1].colour.name == "Deep");
}

TEST_CASE("circle_degrees: the painter's circle puts red, yellow and blue a third apart, and turns once") {
  CHECK(std::fabs(circle_degrees(27, Circle::painter) - 0.0) < 1e-9);
  CHECK(std::fabs(circle_degrees(95, Circle::painter) - 120.0) < 1e-9);
  CHECK(std::fabs(circle_degrees(270, Circle::painter) - 240.0) < 1e-9);
  double before = circle_degrees(27, Circle::painter);
  for (double h = 28; h < 387; h += 1) {
    const double now = circle_degrees(std::fmod(h, 360.0), Circle::painter);
    CHECK(now > before);
    CHECK(now < 360.0);
    before = now;
  }
  CHECK(circle_degrees(123, Circle::lab) == 123);
}

TEST_CASE("harmony_sets: the order of what is owned changes nothing") {
  Dice dice(42);
  for (int round = 0; round < 20; ++round) {
    auto owned = random_colours(dice, 60);
    const NamedColour anchor{"anchor", {60, 30, -25}, 0.0, nullptr};
    const auto once = harmony_sets(anchor, owned, {});
    std::reverse(owned.begin(), owned.end());
    const auto again = harmony_sets(anchor, owned, {});
    REQUIRE(once.size() == again.size());
    for (std::size_t i = 0; i < once.size(); ++i) {
      REQUIRE(once[i].members.size() == again[i].members.size());
      for (std::size_t k = 0; k < once[i].members.size(); ++k)
        CHECK(once[i].members[k].colour.name == again[i].members[k].colour.name);
    }
  }
}
