// SPDX-License-Identifier: MIT
#include <doctest/doctest.h>

#include <string>

#include "advise/swatches.h"
#include "kit/kit.h"
#include "kit/touching.h"

using namespace kithue;

namespace {

const std::string kHead = R"toml(name = "K"
page = "letter"
[[face]]
label = "1A"
colours = ["lab(70 6 20)"]
direction = "up"
[[face]]
label = "1B"
colours = ["lab(30 6 -20)"]
)toml";
const std::string kGulls = "[[card]]\nname = \"Gulls\"\n";

std::string piece(const std::string& rest) {
  return kHead + kGulls + "[[card.piece]]\n" + rest;
}

}  // namespace

TEST_CASE("parse_kit: cards, pieces, stamps, portions, supplies, pack, strip and bands are read") {
  const auto kit = parse_kit(R"toml(name = "K"
kits = 10
spares = 2
spoilage_percent = 2.5
page = "A4"
units = "in"
bands = [1, 2, 5, 11]
[pack]
sheet = "12 x 12 in"
copies = 2
price = 12.5
have = 3
[strip]
punch = "3/4 in"
[[face]]
label = "1A"
colours = ["lab(70 6 20)"]
direction = "up"
[[face]]
label = "back"
sheet = "1"
colours = ["lab(30 6 -20)"]
[inks]
price = 8.50
budget = 30
[stocks]
sheet = "8 1/2 x 11 in"
[[supply]]
stock = "Sailcloth"
sheet = "12 x 12 in"
pack = 10
price = 7.25
have = 4
[[supply]]
ink = "Pitch Black"
have = 1
[[portion]]
size = "6 x 12 in"
of = ["1"]
[[card]]
name = "Gulls"
count = 2
[[card.piece]]
name = "base"
stock = "Sailcloth"
size = "8 1/2 x 5 1/2 in"
score = "4 1/4 in"
turn = "never"
[[card.piece]]
name = "panel"
face = "1a"
size = "4 x 5 1/4 in"
count = 3
touches = ["base"]
from = "portion"
[[card.stamp]]
ink = "Pitch Black"
method = "pad"
on = "Panel"
use = "bold"
strength = 0.5
words = "ahoy"
)toml",
                             "kit.toml");
  REQUIRE_MESSAGE(kit.has_value(), (kit ? "" : describe(kit.error())));
  CHECK(kit->warnings.empty());
  CHECK(kit->spares == 2);
  CHECK(kit->spoilage_percent == 2.5);
  CHECK(kit->unit == Unit::inch);
  REQUIRE(kit->bands);
  CHECK(kit->bands->near_miss == 5.0);
  CHECK(kit->pack.copies == 2);
  CHECK(kit->pack.price_cents == 1250);
  CHECK(kit->pack.have == 3);
  CHECK(kit->punch == Length{19'050'000});
  CHECK(kit->snippet.width == Length{19'050'000});  // as wide and high as the dot
  CHECK(kit->snippet.height == Length{19'050'000});
  CHECK(sheets_of(*kit) == std::vector<std::string>{"1"});
  CHECK(is_directional(*kit, "1"));
  CHECK(kit->ink_cents == 850);
  CHECK(kit->ink_budget_cents == 3000);
  CHECK(sheet_of_stock(*kit, "sailcloth") == Size{{304'800'000}, {304'800'000}});
  CHECK(sheet_of_stock(*kit, "Gull") == Size{{215'900'000}, {279'400'000}});
  REQUIRE(kit->supplies.size() == 2);
  CHECK(kit->supplies[0].pack == 10);
  CHECK(kit->supplies[0].price_cents == 725);
  CHECK(supply_of_ink(*kit, "pitch black")->have == 1);
  REQUIRE(kit->portions.size() == 1);
  CHECK(kit->portions[0].of == std::vector<std::string>{"1"});
  REQUIRE(kit->cards.size() == 1);
  const KitCard& card = kit->cards[0];
  CHECK(card.count == 2);
  REQUIRE(card.pieces.size() == 2);
  CHECK(card.pieces[0].scores == std::vector<Length>{{107'950'000}});
  CHECK(card.pieces[0].turn == Turn::never);
  CHECK(card.pieces[1].face == "1A");
  CHECK(card.pieces[1].count == 3);
  CHECK(card.pieces[1].from_portion);
  REQUIRE(card.stamps.size() == 1);
  CHECK(card.stamps[0].ink == "Pitch Black (pad)");
  CHECK(card.stamps[0].on == "panel");
  CHECK(card.stamps[0].use == StampUse::bold);
  CHECK(card.stamps[0].strength == 0.5);
  CHECK(money_text(1250) == "12.50");
  CHECK(money_text(5) == "0.05");
}

TEST_CASE("parse_kit: wrong units and impossible sizes are said with line and what to write") {
  struct Row {
    std::string toml;
    const char* where;
    const char* what;
  };
  const Row rows[] = {
      {piece("name = \"a\"\nstock = \"S\"\nsize = \"4 x 5\"\n"), "kit.toml:15:8", "no unit"},
      {piece("name = \"a\"\nstock = \"S\"\nsize = \"4 x 5 ft\"\n"), "kit.toml:15:8", "no unit"},
      {piece("name = \"a\"\nstock = \"S\"\nsize = 4\n"), "kit.toml:15:8", "must be text"},
      {piece("name = \"a\"\nstock = \"S\"\nsize = \"0 x 5 in\"\n"), "kit.toml:15:8", "more than nothing"},
      {piece("name = \"a\"\nstock = \"S\"\nsize = \"9 x 12 in\"\n"), "kit.toml:15:8",
       "does not fit its sheet"},
      {piece("name = \"a\"\nstock = \"S\"\nsize = \"11 x 8 in\"\nturn = \"never\"\n"), "kit.toml:15:8",
       "the way it must lie"},
      {piece("name = \"a\"\nface = \"1A\"\nsize = \"13 x 5 in\"\n"), "kit.toml:15:8",
       "does not fit its sheet"},
      {piece("name = \"a\"\nface = \"2A\"\nsize = \"3 x 5 in\"\n"), "kit.toml:14:8", "no face '2A'"},
      {piece("name = \"a\"\nface = \"1A\"\nstock = \"S\"\nsize = \"3 x 5 in\"\n"), "kit.toml:12:1",
       "not both"},
      {piece("name = \"a\"\nsize = \"3 x 5 in\"\n"), "kit.toml:12:1", "from a stock or from a face"},
      {piece("name = \"a\"\nstock = \"S\"\n"), "kit.toml:12:1", "has no size"},
      {piece("name = \"a\"\nstock = \"S\"\nsize = \"3 x 5 in\"\ntouches = [\"b\"]\n"), "kit.toml:16:11",
       "no piece 'b'"},
      {piece("name = \"a\"\nstock = \"S\"\nsize = \"3 x 5 in\"\ntouches = [\"A\"]\n"), "kit.toml:16:11",
       "cannot touch itself"},
      {piece("name = \"a\"\nstock = \"S\"\nsize = \"3 x 5 in\"\nscore = \"5 in\"\n"), "kit.toml:16:9",
       "off the piece"},
      {piece("name = \"a\"\nstock = \"S\"\nsize = \"3 x 5 in\"\nfrom = \"portion\"\n"), "kit.toml:16:8",
       "portions are of the pack"},
      {kHead + "[[portion]]\nsize = \"13 x 6 in\"\n", "kit.toml:11:8", "does not fit the sheet"},
      {kHead + "[[portion]]\nsize = \"3 x 6 in\"\nof = [\"2\"]\n", "kit.toml:12:6", "no sheet '2'"},
      {kHead + "[[supply]]\nink = \"I\"\npack = 3\n", "kit.toml:12:8", "belongs to a stock"},
      {kHead + "[[supply]]\nstock = \"S\"\nprice = 1.005\n", "kit.toml:12:9", "whole cents"},
      {kHead + "[strip]\n", "kit.toml:10:1", "no 'punch'"},
      {kHead + "[strip]\npunch = \"13 in\"\n", "kit.toml:11:9", "does not fit the sheet"},
      {"bands = [1, 3, 2, 12]\n" + kHead, "kit.toml:1:9", "must rise"}};
  for (const Row& row : rows) {
    CAPTURE(row.toml);
    const auto kit = parse_kit(row.toml, "kit.toml");
    REQUIRE_FALSE(kit.has_value());
    CAPTURE(describe(kit.error()));
    CHECK(kit.error().where == row.where);
    CHECK(kit.error().what.find(row.what) != std::string::npos);
    CHECK_FALSE(kit.error().advice.empty());
  }
}

TEST_CASE("parse_kit: an unknown key of a piece is a warning with its line and a near spelling") {
  const auto kit =
      parse_kit(piece("name = \"a\"\nstock = \"S\"\nsize = \"3 x 5 in\"\ntouch = [\"b\"]\n"), "kit.toml");
  REQUIRE(kit.has_value());
  REQUIRE(kit->warnings.size() == 1);
  CHECK(kit->warnings[0] ==
        "kit.toml:16:1: unknown key 'touch' in [[card.piece]] is left out: did you mean touches?");
}

TEST_CASE(
    "touching_colours: each pair once with its cards; a face touches with its ground and its photo's error") {
  Stash stash;
  stash.swatches = {swatch_with(1, "S", Kind::stock, {70, 6, 20}),
                    swatch_with(2, "T", Kind::stock, {50, 6, 20})};
  stash.next_id = 3;
  const auto kit = parse_kit(piece(R"toml(name = "a"
stock = "S"
size = "3 x 5 in"
touches = ["b"]
[[card.piece]]
name = "b"
stock = "t"
size = "3 x 5 in"
touches = ["a", "c"]
[[card.piece]]
name = "c"
face = "1B"
size = "3 x 4 in"
[[card.piece]]
name = "d"
stock = "S"
size = "1 x 1 in"
touches = ["a"]
)toml"),
                             "kit.toml");
  REQUIRE_MESSAGE(kit.has_value(), (kit ? "" : describe(kit.error())));
  const FaceColours faces{{{{70, 6, 20}, 0.0, "ground"}},
                          {{{10, 0, 0}, 0.6, "motif"}, {{30, 6, -20}, 0.4, "ground", 2.5}}};
  const auto touching = touching_colours(*kit, stash, faces);
  REQUIRE(touching.has_value());
  REQUIRE(touching->pairs.size() == 2);  // d lies on a, both of S: no pair
  CHECK(touching->colours[0].name == "S");
  CHECK(touching->where[0] == std::vector<std::string>{"Gulls: a + b"});
  CHECK(touching->colours[2].name == "the ground of face 1B");
  CHECK(touching->colours[2].lab == Lab{30, 6, -20});
  CHECK(touching->colours[2].uncertainty == 2.5);
}
