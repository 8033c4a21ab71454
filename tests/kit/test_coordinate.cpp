// SPDX-License-Identifier: MIT
#include <doctest/doctest.h>

#include <random>
#include <set>

#include "colour/difference.h"
#include "kit/coordinate.h"

namespace {

using namespace kithue;

Swatch swatch(int id, const std::string& name, Kind kind, const Lab& lab) {
  Swatch one;
  one.id = id;
  one.name = name;
  one.kind = kind;
  Reading reading;
  reading.lab = lab;
  one.readings.push_back(reading);
  return one;
}

Stash stash_to_match() {
  Stash stash;
  stash.swatches = {
      swatch(1, "Sailcloth", Kind::stock, {94, 0, 6}), swatch(2, "Wet Sand", Kind::stock, {75, 5, 18}),
      swatch(3, "Navy Band", Kind::stock, {29, -1, -27}), swatch(4, "Pitch Black", Kind::ink, {20, 0, 1}),
      swatch(5, "Buoy", Kind::ink, {62, 44, 52})};
  stash.next_id = 6;
  return stash;
}

std::vector<std::string> names_of(const std::vector<Coordinate>& list) {
  std::vector<std::string> names;
  names.reserve(list.size());
  for (const Coordinate& one : list) names.push_back(one.swatch->name);
  return names;
}

InPlay all_of(const Stash& stash, Kind kind) {
  const auto play = in_play(stash, {}, kind, "kit.toml");
  REQUIRE(play);
  return *play;
}

}  // namespace

TEST_CASE("found_coordinates: ground first, then motif, then accent, each swatch once") {
  const Stash stash = stash_to_match();
  const std::vector<KitColour> colours{{{30, 0, -26}, 0.3, "motif"},
                                       {{93, 0, 6}, 0.6, "ground"},
                                       {{94, 0, 5}, 0.05, "motif"},
                                       {{76, 5, 17}, 0.05, "accent"}};
  const auto found = found_coordinates(stash, all_of(stash, Kind::stock), colours, Kind::stock, 3);
  CHECK(names_of(found) == std::vector<std::string>{"Sailcloth", "Navy Band", "Wet Sand"});
  CHECK(found[0].colour == 1);
  CHECK_FALSE(found[0].named);
}

TEST_CASE("found_coordinates: inks follow the drawing, and the ground only where it is all there is") {
  const Stash stash = stash_to_match();
  const InPlay inks = all_of(stash, Kind::ink);
  const KitColour ground{{62, 44, 50}, 0.9, "ground"};
  const KitColour motif{{21, 0, 2}, 0.1, "motif"};
  CHECK(names_of(found_coordinates(stash, inks, {ground, motif}, Kind::ink, 3)) ==
        std::vector<std::string>{"Pitch Black"});
  CHECK(names_of(found_coordinates(stash, inks, {ground}, Kind::ink, 3)) == std::vector<std::string>{"Buoy"});
}

TEST_CASE("found_coordinates: what is beyond the limit does not coordinate") {
  const Stash stash = stash_to_match();
  const std::vector<KitColour> green{{{60, -60, 40}, 1.0, "ground"}};
  CHECK(found_coordinates(stash, all_of(stash, Kind::stock), green, Kind::stock, 3).empty());
}

TEST_CASE("found_coordinates: on random stashes each is the nearest in play to the colour it is given for") {
  std::mt19937 random(11);
  for (int round = 0; round < 50; ++round) {
    Stash stash;
    stash.swatches.reserve(40);
    for (int id = 1; id <= 40; ++id)
      stash.swatches.push_back(
          swatch(id, "S" + std::to_string(id), id % 2 == 0 ? Kind::ink : Kind::stock,
                 {static_cast<double>(random() % 100), static_cast<double>(random() % 60) - 30.0,
                  static_cast<double>(random() % 60) - 30.0}));
    std::vector<KitColour> colours;
    colours.reserve(6);
    for (int i = 0; i < 6; ++i)
      colours.push_back({{static_cast<double>(random() % 100), static_cast<double>(random() % 60) - 30.0,
                          static_cast<double>(random() % 60) - 30.0},
                         0.1,
                         i == 0 ? "ground" : "motif"});
    KitRange range;
    range.never = {"S2", "S4"};
    const auto play = in_play(stash, range, Kind::ink, "kit.toml");
    REQUIRE(play);
    CHECK(play->swatches.size() == 18);
    const auto found = found_coordinates(stash, *play, colours, Kind::ink, 3);
    CHECK(found.size() <= 3);
    std::set<int> seen;
    for (const Coordinate& one : found) {
      CHECK(seen.insert(one.swatch->id).second);
      CHECK(one.de00 <= 12.0);
      for (const Swatch* other : play->swatches)
        CHECK(one.de00 <= ciede2000(colours[one.colour].lab, other->readings[0].lab));
    }
  }
}

TEST_CASE("in_play: names are looked up, retired and used up ones are left out of the stash, never wins") {
  Stash stash = stash_to_match();
  stash.swatches[1].retired = true;
  stash.swatches[2].in_stock = false;
  CHECK(all_of(stash, Kind::stock).swatches.size() == 1);
  KitRange named;
  named.from_stash = false;
  named.names = {"wet sand", "#3"};
  const auto play = in_play(stash, named, Kind::stock, "kit.toml");
  REQUIRE(play);
  CHECK(play->swatches.size() == 2);
}

TEST_CASE("in_play: an unknown name and a name of another kind say where they stand") {
  const Stash stash = stash_to_match();
  KitRange range;
  range.from_stash = false;
  range.names = {"Wet Sant"};
  const auto unknown = in_play(stash, range, Kind::stock, "kit.toml");
  REQUIRE_FALSE(unknown);
  CHECK(unknown.error().kind == ErrorKind::not_found);
  CHECK(unknown.error().where == "kit.toml");
  CHECK(describe(unknown.error()).find("Wet Sand") != std::string::npos);
  range.names = {"Buoy"};
  const auto other = in_play(stash, range, Kind::stock, "kit.toml");
  REQUIRE_FALSE(other);
  CHECK(other.error().kind == ErrorKind::bad_input);
}
