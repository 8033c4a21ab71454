// SPDX-License-Identifier: MIT
#include <doctest/doctest.h>

#include <random>

#include "kit/count.h"

using namespace kithue;

namespace {

Kit kit_from(const std::string& toml) {
  const auto kit = parse_kit(toml, "kit.toml");
  REQUIRE_MESSAGE(kit.has_value(), (kit ? "" : describe(kit.error())));
  return *kit;
}

KitCount counted_kit(const std::string& toml, const std::vector<std::string>& solids = {}) {
  const auto count = count_kit(kit_from(toml), solids);
  REQUIRE(count.has_value());
  return *count;
}

const std::string kCard =
    "[[card]]\nname = \"Gulls\"\ncount = 2\n"
    "[[card.piece]]\nname = \"base\"\nstock = \"Sail\"\nsize = \"4 x 4 in\"\ncount = 3\n";

}  // namespace

TEST_CASE("count: pieces are kits and spares times cards times pieces, with spoilage rounded up") {
  // (24 + 1) x 2 x 3 = 150; 5 % of it is 7.5, so 158 are cut; nine of 4 x 4 in on 12 x 12 in: 18 sheets.
  const KitCount count = counted_kit("name = \"K\"\nkits = 24\nspares = 1\nspoilage_percent = 5\n" + kCard +
                                     "[stocks]\nsheet = \"12 x 12 in\"\n");
  REQUIRE(count.papers.size() == 1);
  CHECK(count.papers[0].pieces == 158);
  CHECK(count.papers[0].sheets == 18);
  CHECK(count.papers[0].plan.fewest);
}

TEST_CASE("count: spoilage is exact where floating point is not") {
  CHECK(with_spoilage(100, 7.0) == 107);  // 100 * 0.07 in doubles is a hair more than 7
  CHECK(with_spoilage(1000, 0.1) == 1001);
  CHECK(with_spoilage(30, 5.0) == 32);
  CHECK(with_spoilage(0, 100.0) == 0);
  CHECK(with_spoilage(7, 0.0) == 7);
  CHECK(with_spoilage(20'000'000'000'000, 100.0) == 40'000'000'000'000);
  std::mt19937_64 dice(5);
  for (int i = 0; i < 2000; ++i) {
    const auto pieces = static_cast<std::int64_t>(dice() % 100'000);
    const auto tenths = static_cast<std::int64_t>(dice() % 1001);
    // In whole numbers: pieces plus a thousandth of pieces times tenths of a percent, rounded up.
    CHECK(with_spoilage(pieces, static_cast<double>(tenths) / 10.0) ==
          pieces + (pieces * tenths + 999) / 1000);
  }
}

TEST_CASE("count: inches with fractions and millimetres give the same count") {
  const auto with = [](const std::string& a, const std::string& b, const std::string& sheet) {
    return counted_kit("name = \"K\"\nkits = 11\n[stocks]\nsheet = \"" + sheet +
                       "\"\n[[card]]\nname = \"C\"\n"
                       "[[card.piece]]\nname = \"a\"\nstock = \"S\"\nsize = \"" +
                       a + "\"\n[[card.piece]]\nname = \"b\"\nstock = \"S\"\nsize = \"" + b + "\"\n");
  };
  const KitCount inches = with("4 x 5 1/4 in", "8 1/2 x 5-1/2 in", "12 x 12 in");
  const KitCount mm = with("101.6 x 133.35 mm", "215.9 x 139.7 mm", "304.8 x 304.8 mm");
  const KitCount mixed = with("4 in x 13.335 cm", "8.5 x 5.5 in", "30.48 x 30.48 cm");
  REQUIRE(inches.papers.size() == 1);
  CHECK(inches.papers[0].sheets == mm.papers[0].sheets);
  CHECK(inches.papers[0].sheets == mixed.papers[0].sheets);
  CHECK(inches.papers[0].plan.waste == mm.papers[0].plan.waste);
}

TEST_CASE("count: shopping is needs less what is there, in whole packs and whole cents, on 300 random jobs") {
  std::mt19937_64 dice(9);
  for (int i = 0; i < 300; ++i) {
    const auto needed = static_cast<std::int64_t>(dice() % 500);
    const auto have = static_cast<std::int64_t>(dice() % 300);
    const auto pack = static_cast<std::int64_t>(1 + dice() % 30);
    const auto price = static_cast<std::int64_t>(dice() % 100'000);
    const Purchase buy = purchase_of(needed, have, pack, price);
    // Bought one pack at a time until it is enough.
    std::int64_t there = have;
    std::int64_t packs = 0;
    std::int64_t cents = 0;
    for (; there < needed; there += pack) {
      ++packs;
      cents += price;
    }
    CHECK(buy.packs == packs);
    CHECK(buy.cost_cents == cents);
    CHECK(buy.missing == (needed > have ? needed - have : 0));
  }
  const Purchase unknown = purchase_of(5, std::nullopt, 2, std::nullopt);
  CHECK(unknown.packs == 3);
  CHECK(!unknown.have_known);
  CHECK(!unknown.cost_cents.has_value());
}

TEST_CASE("count: prices in cents add up without drift, and what has no price is named") {
  // 0.10 as a double is not a tenth: ten of it in cents are 100.
  const KitCount count = counted_kit("name = \"K\"\nkits = 9\n[stocks]\nsheet = \"4 x 4 in\"\n" + kCard +
                                     "[[card.piece]]\nname = \"mat\"\nstock = \"Quay\"\nsize = \"4 x 4 in\"\n"
                                     "[[supply]]\nstock = \"Sail\"\nprice = 0.10\nhave = 24\n");
  CHECK(count.papers[0].sheets == 54);
  CHECK(count.papers[0].purchase.packs == 30);
  CHECK(count.cost_cents == 300);
  CHECK(count.without_price == std::vector<std::string>{"Quay"});
}

TEST_CASE("count: packs follow the sheet of which most are needed; using one side spends the other") {
  const std::string faces =
      "[[face]]\nlabel = \"1A\"\ncolours = [\"#fff\"]\n[[face]]\nlabel = \"1B\"\ncolours = [\"#000\"]\n"
      "[[face]]\nlabel = \"2A\"\ncolours = [\"#fff\"]\n";
  const auto piece = [](const std::string& name, const std::string& face) {
    return "[[card.piece]]\nname = \"" + name + "\"\nface = \"" + face + "\"\nsize = \"6 x 6 in\"\n";
  };
  const KitCount count = counted_kit(
      "name = \"K\"\nkits = 10\n[pack]\nsheet = \"12 x 12 in\"\ncopies = 2\nprice = 13.50\nhave = 1\n" +
      faces + "[[card]]\nname = \"C\"\n" + piece("a", "1A") + piece("b", "1B") + piece("c", "2A"));
  // Sheet 1: 20 pieces, four on a sheet: five sheets, three packs of two. Sheet 2: ten pieces, three sheets.
  REQUIRE(count.papers.size() == 2);
  CHECK(count.papers[0].sheets == 5);
  CHECK(count.papers[1].sheets == 3);
  CHECK(count.packs.needed == 3);
  CHECK(count.packs.missing == 2);
  CHECK(count.cost_cents == 2700);
}

TEST_CASE("count: dots come out of offcuts first, then out of sheets of their own") {
  const std::string kit =
      "name = \"K\"\nkits = 10\n[stocks]\nsheet = \"12 x 12 in\"\n[strip]\npunch = \"1 in\"\n"
      "[[face]]\nlabel = \"1\"\ncolours = [\"#fff\"]\n"
      "[[card]]\nname = \"C\"\n[[card.piece]]\nname = \"a\"\nstock = \"Sail\"\nsize = \"11 x 12 in\"\n";
  // Ten sheets leave 1 x 12 in each: 120 places for ten dots.
  const KitCount count = counted_kit(kit, {"Sail", "Quay"});
  REQUIRE(count.papers.size() == 3);  // Sail, Quay, sheet 1
  CHECK(count.papers[0].dots == 10);
  CHECK(count.papers[0].dots_in_offcuts == 10);
  CHECK(count.papers[0].sheets == 10);
  CHECK(count.papers[1].job.paper == "Quay");
  CHECK(count.papers[1].sheets == 1);
  CHECK(count.papers[1].sheets_for_dots == 1);
  CHECK(count.strips == 10);
  CHECK(count.papers[2].pieces == 10);  // one snippet of the face a strip
}

TEST_CASE("count: portions, inks and pads") {
  const std::string kit =
      "name = \"K\"\nkits = 10\nspares = 2\n[[face]]\nlabel = \"1A\"\ncolours = [\"#fff\"]\n"
      "[[face]]\nlabel = \"2A\"\ncolours = [\"#fff\"]\n[[portion]]\nsize = \"6 x 6 in\"\n" +
      kCard + "[[card.stamp]]\nink = \"Pitch\"\non = \"base\"\n[[supply]]\nink = \"Pitch\"\nprice = 7.25\n";
  const KitCount one = counted_kit(kit);
  CHECK(one.portions == 24);
  REQUIRE(one.inks.size() == 1);
  CHECK(one.inks[0].prints == 72);
  CHECK(one.inks[0].purchase.needed == 1);
  CHECK(one.inks[0].purchase.packs == 0);  // the stash has it
  const KitCount each = counted_kit(kit + "[inks]\npads = \"each\"\n");
  CHECK(each.inks[0].purchase.needed == 12);
  CHECK(each.inks[0].purchase.cost_cents == 12 * 725);
}

TEST_CASE("count: a fold runs along the grain where the piece fits so, else it is said") {
  const auto ways = [](const std::string& grain, const std::string& sheet) {
    const Kit kit =
        kit_from("name = \"K\"\n[stocks]\nsheet = \"" + sheet + "\"\n[[supply]]\nstock = \"Sail\"\n" + grain +
                 "[[card]]\nname = \"C\"\n[[card.piece]]\nname = \"base\"\nstock = \"Sail\"\n"
                 "size = \"8 x 5 in\"\nscore = \"4 in\"\n");
    return ways_to_lie(kit, kit.cards[0].pieces[0]);
  };
  CHECK(ways("", "12 x 12 in").turned);
  CHECK(!ways("grain = \"up\"\n", "12 x 12 in").turned);
  CHECK(!ways("grain = \"across\"\n", "12 x 12 in").upright);
  CHECK(ways("grain = \"across\"\n", "12 x 6 in").against_grain);
}
