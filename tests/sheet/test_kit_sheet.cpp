// SPDX-License-Identifier: MIT
#include <doctest/doctest.h>

#include <algorithm>
#include <random>
#include <string>
#include <vector>

#include "sheet/kit_sheet.h"
#include "sheet/layout_check.h"
#include "sheet/outside.h"
#include "sheet/pdf.h"

namespace {

using namespace kithue;
using namespace kithue_test;

CardPiece piece(const std::string& name, double width, double height, std::vector<std::size_t> touches = {}) {
  CardPiece made{name, "Sailcloth", "some size", "", 1, width, height};
  made.lab = Lab{80, 0, 5};
  made.touches = std::move(touches);
  return made;
}

Card plain_card(const std::string& name) {
  Card card{name, 1, {piece("base", 108, 140), piece("mat", 102, 134, {0}), piece("panel", 95, 127, {1})}};
  card.stamps.push_back({0, "Pitch Black", "pad", "", "wish you were here", Lab{20, 0, 0}});
  card.stamps.push_back({2, "Buoy", "marker", "stamped twice", "", Lab{50, 50, 30}});
  return card;
}

KitSheet plain_sheet(std::size_t cards, std::size_t inks) {
  KitSheet sheet;
  sheet.name = "Harbour Morning";
  sheet.date = "2026-03";
  for (std::size_t i = 0; i < cards; ++i) sheet.cards.push_back(plain_card("Card " + std::to_string(i + 1)));
  for (std::size_t i = 0; i < inks; ++i)
    sheet.inks.push_back(
        {{"Ink " + std::to_string(i + 1), "pad", Lab{30, 10, 10}}, "B7", "Kelp (pad): darker"});
  return sheet;
}

Card random_card(std::mt19937& random, std::size_t pictures) {
  Card card{random_name(random), 1 + static_cast<int>(random() % 3)};
  const std::size_t pieces = 1 + below(random, below(random, 20) == 0 ? 50 : 5);
  for (std::size_t i = 0; i < pieces; ++i) {
    CardPiece one{random_name(random), random_name(random),
                  random() % 5 == 0 ? random_name(random) : "4 x 5 in",
                  random() % 3 == 0 ? random_name(random) : "", 1 + static_cast<int>(random() % 8)};
    one.width_mm = 3.0 + static_cast<double>(random() % 300);
    one.height_mm = 3.0 + static_cast<double>(random() % 300);
    one.folded = random() % 4 == 0;
    if (random() % 5 != 0) one.lab = Lab{static_cast<double>(random() % 101), 20, -30};
    if (pictures > 0 && random() % 4 == 0) one.picture = random() % pictures;
    if (random() % 5 == 0) one.stripes = {{{50, 10, 10}, 0.4, "motif"}, {{70, 0, 10}, 0.6, "ground"}};
    for (std::size_t k = 0; k < i; ++k) {
      if (random() % 3 == 0) one.touches.push_back(k);
    }
    card.pieces.push_back(one);
  }
  for (std::size_t i = random() % 5; i > 0; --i) {
    CardStamp stamp{random() % pieces, random_name(random), random() % 2 == 0 ? "pad" : random_name(random)};
    stamp.words = random() % 3 == 0 ? "" : random_name(random);
    stamp.manner = random() % 3 == 0 ? "stamped twice" : "";
    if (random() % 6 != 0) stamp.lab = Lab{30, 0, 0};
    card.stamps.push_back(stamp);
  }
  return card;
}

KitSheet random_sheet(std::mt19937& random) {
  KitSheet sheet;
  sheet.name = random_name(random);
  if (random() % 2 == 0) sheet.date = random_name(random);
  for (std::size_t i = random() % 4; i > 0; --i)
    sheet.pictures.push_back(
        grey_picture(1 + static_cast<int>(below(random, 40)), 1 + static_cast<int>(below(random, 40))));
  for (std::size_t i = 1 + random() % 4; i > 0; --i)
    sheet.cards.push_back(random_card(random, sheet.pictures.size()));
  for (std::size_t i = random() % 9; i > 0; --i)
    sheet.inks.push_back({random_dot(random), random() % 2 == 0 ? "" : random_name(random),
                          random() % 3 == 0 ? "" : random_name(random) + ": a touch darker"});
  return sheet;
}

}  // namespace

TEST_CASE("kit sheet: on 500 random kits nothing overlaps, and nothing leaves the page") {
  std::mt19937 random(20251108);
  for (int i = 0; i < 500; ++i) {
    CAPTURE(i);
    const KitSheet sheet = random_sheet(random);
    const Document document =
        lay_out_kit_sheet(sheet, i % 2 == 0 ? PageSize::a4 : PageSize::letter, i % 5 == 4);
    const Faults faults = faults_of(document, true);
    CHECK(faults.off_page == 0);
    CHECK(faults.overlaps == 0);
    CHECK(faults.not_held == 0);
  }
}

TEST_CASE("kit sheet: six cards and six inks stand on one page, on A4 and on Letter") {
  for (const PageSize size : {PageSize::a4, PageSize::letter}) {
    const Document document = lay_out_kit_sheet(plain_sheet(6, 6), size);
    CHECK(document.pages.size() == 1);
  }
}

TEST_CASE("kit sheet: it has words and no colour numbers, and every ink has its line") {
  const TestFolder folder;
  const Result<std::string> pdf = pdf_from(lay_out_kit_sheet(plain_sheet(3, 3), PageSize::a4));
  REQUIRE(pdf.has_value());
  std::string text;
  for (const char c : output_of("pdftotext " + folder.put("kit.pdf", *pdf) + " -")) {
    const char one = c == '\n' ? ' ' : c;
    if (one != ' ' || !text.ends_with(' ')) text += one;
  }
  CHECK(text.find("lab(") == std::string::npos);
  CHECK(text.find("L*") == std::string::npos);
  CHECK(text.find("dE") == std::string::npos);
  for (const char* words :
       {"Harbour Morning", "2026-03", "Card 3", "Sailcloth", "Pitch Black (pad) on the base", "stamped twice",
        "If you lack it: Kelp (pad): darker", "batch B7"})
    CHECK_MESSAGE(text.find(words) != std::string::npos, words);
}

TEST_CASE("kit sheet: large print has no line under 12 points beside the check lines") {
  // 16 pt is what clear print guides commonly call large print, 12 pt its small print (from memory).
  const Document document = lay_out_kit_sheet(plain_sheet(3, 3), PageSize::a4, true);
  for (const Page& page : document.pages) {
    for (const Placed& placed : items_of(page)) {
      const auto* text = std::get_if<TextItem>(placed.item);
      if (text == nullptr || text->inside || text->line.text == "100 mm" || text->line.text == "4 in")
        continue;
      CAPTURE(text->line.text);
      if (placed.bounds.top < document.height_mm - 44.0 && placed.bounds.top > 25.0)
        CHECK(text->size_mm >= 11.9 * 25.4 / 72.0);
    }
  }
}

TEST_CASE("card picture: the larger lies below the smaller, and a mat shows on all sides") {
  const Card card = plain_card("K");
  const std::vector<LaidPiece> placed = arranged(card);
  REQUIRE(placed.size() == 3);
  for (std::size_t i = 1; i < 3; ++i) {
    CHECK(placed[i].piece == i);
    CHECK(placed[i].at.left > placed[i - 1].at.left);
    CHECK(placed[i].at.top > placed[i - 1].at.top);
    CHECK(placed[i].at.right < placed[i - 1].at.right);
    CHECK(placed[i].at.bottom < placed[i - 1].at.bottom);
  }
}

TEST_CASE("card picture: pieces that do not touch lie beside each other") {
  Card card{"K", 1, {piece("base", 100, 140), piece("left", 40, 60, {0}), piece("right", 40, 50, {0})}};
  const std::vector<LaidPiece> placed = arranged(card);
  REQUIRE(placed.size() == 3);
  CHECK_FALSE(overlap(placed[1].at, placed[2].at));
}

TEST_CASE("card picture: a free part is free, and the largest of a frame is told from a covered piece") {
  const std::vector<LaidPiece> placed{{0, {0, 0, 100, 100}}, {1, {0, 0, 100, 70}}, {2, {10, 10, 90, 60}}};
  const auto below = free_part(placed, 0, {});
  REQUIRE(below.has_value());
  CHECK(below->top == 70.0);
  CHECK(below->bottom == 100.0);
  CHECK(below->right - below->left == 100.0);
  CHECK_FALSE(free_part({{0, {0, 0, 10, 10}}, {1, {0, 0, 10, 10}}}, 0, {}).has_value());
}
