// SPDX-License-Identifier: MIT
#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>
#include <random>
#include <string>
#include <vector>

#include "sheet/layout_check.h"
#include "sheet/pattern_strip.h"

namespace {

using namespace kithue;
using namespace kithue_test;

PatternStrip plain_strip(std::size_t sheets, std::size_t solids) {
  PatternStrip strip;
  strip.name = "Harbour Morning";
  for (std::size_t i = 0; i < solids; ++i)
    strip.solids.push_back(
        {"Solid Number " + std::to_string(i + 1), "", Lab{20.0 + 4.0 * static_cast<double>(i), 10, 5}});
  for (std::size_t i = 0; i < 2 * sheets; ++i) {
    SheetFace face;
    face.sheet = std::to_string(i / 2 + 1);
    face.label = face.sheet + (i % 2 == 0 ? "A" : "B");
    face.colours = {{{70, -20, -20}, 0.7, "ground"}, {{40, 30, 20}, 0.3, "motif"}};
    for (std::size_t k = 0; k < 3; ++k) face.stocks.push_back(strip.solids[(i + k) % solids]);
    strip.faces.push_back(face);
  }
  return strip;
}

PatternStrip random_strip(std::mt19937& random) {
  PatternStrip strip = plain_strip(1 + random() % 5, 1);
  strip.name = random_name(random);
  if (random() % 2 == 0) strip.date = random_name(random);
  strip.solids.clear();
  for (std::size_t i = random() % 14; i > 0; --i) strip.solids.push_back(random_dot(random));
  for (SheetFace& face : strip.faces) {
    if (random() % 4 == 0) face.label = random_name(random);
    if (random() % 5 == 0) face.sheet = "other";
    if (random() % 3 == 0) {
      face.picture = strip.pictures.size();
      strip.pictures.push_back(
          grey_picture(1 + static_cast<int>(below(random, 40)), 1 + static_cast<int>(below(random, 40))));
    }
    face.stocks.clear();
    for (std::size_t k = below(random, below(random, 12) == 0 ? 60 : 5); k > 0; --k)
      face.stocks.push_back(random_dot(random));
  }
  constexpr double kPunches[] = {20.0, 19.05, 25.4, 6.0, 76.2};
  constexpr double kSnippets[] = {20.0, 20.0, 30.0, 60.0, 76.2};
  strip.punch_mm = kPunches[random() % 5];
  strip.snippet_width_mm = kSnippets[random() % 5];
  strip.snippet_height_mm = kSnippets[random() % 5];
  strip.copies = 1 + random() % 2;
  return strip;
}

/// The cells in the order of reading, as the words of their figures.
std::vector<std::string> cells_of(const Document& document) {
  std::vector<std::string> cells;
  for (const Page& page : document.pages) {
    for (const Block& block : page.blocks) {
      if (block.role == BlockRole::figure && block.words.starts_with("Place for"))
        cells.push_back(block.words);
    }
  }
  return cells;
}

std::vector<double> dots_of_width(const Document& document, double width) {
  std::vector<double> lefts;
  for (const Page& page : document.pages) {
    for (const Placed& placed : items_of(page)) {
      const bool wide = std::abs(placed.bounds.right - placed.bounds.left - width) < 0.01;
      if (std::holds_alternative<CircleItem>(*placed.item) && wide) lefts.push_back(placed.bounds.left);
    }
  }
  return lefts;
}

}  // namespace

TEST_CASE("pattern strip: on 500 random kits nothing overlaps, and nothing leaves the page") {
  std::mt19937 random(20251107);
  for (int i = 0; i < 500; ++i) {
    CAPTURE(i);
    const PatternStrip strip = random_strip(random);
    const Faults faults =
        faults_of(lay_out_pattern_strip(strip, i % 2 == 0 ? PageSize::a4 : PageSize::letter));
    CHECK(faults.off_page == 0);
    CHECK(faults.overlaps == 0);
    CHECK(faults.not_held == 0);
  }
}

TEST_CASE("pattern strip: 24 sheets and 8 solids take at most three pages, with any usual punch") {
  for (const PageSize size : {PageSize::a4, PageSize::letter}) {
    for (const double punch : {25.4, 19.05, 20.0}) {
      PatternStrip strip = plain_strip(24, 8);
      strip.punch_mm = punch;
      CHECK(lay_out_pattern_strip(strip, size).pages.size() <= 3);
    }
  }
}

TEST_CASE("pattern strip: six sheets and 18 solids are one page, on A4 and on Letter") {
  for (const PageSize size : {PageSize::a4, PageSize::letter}) {
    PatternStrip strip = plain_strip(6, 18);
    strip.punch_mm = 19.05;
    CHECK(lay_out_pattern_strip(strip, size).pages.size() == 1);
  }
}

TEST_CASE("pattern strip: 48 faces and 16 solids stand once each, in the order of the kit") {
  const PatternStrip strip = plain_strip(24, 16);
  const Document document = lay_out_pattern_strip(strip, PageSize::letter);
  const std::vector<std::string> cells = cells_of(document);
  REQUIRE(cells.size() == 48);
  for (std::size_t i = 0; i < 48; ++i) CHECK(cells[i].ends_with(" " + strip.faces[i].label));
  CHECK(dots_of_width(document, 20.0).size() == 16);
  std::size_t next = 0;
  bool at_the_end = false;
  for (const Page& page : document.pages) {
    for (const Placed& placed : items_of(page)) {
      const auto* text = std::get_if<TextItem>(placed.item);
      if (text == nullptr) continue;
      if (text->line.text == "Solids") at_the_end = true;
      if (at_the_end && next < 16 && text->line.text == strip.solids[next].name) ++next;
    }
  }
  CHECK(next == 16);
}

TEST_CASE("pattern strip: A and B of one sheet stand side by side, level with each other") {
  const Document document = lay_out_pattern_strip(plain_strip(3, 4), PageSize::a4);
  std::vector<Bounds> cells;
  for (const Block& block : document.pages.front().blocks) {
    if (block.role == BlockRole::figure && block.words.starts_with("Place for"))
      cells.push_back(bounds_of(block.items.front()));
  }
  REQUIRE(cells.size() == 6);
  for (std::size_t i = 0; i < 6; i += 2) {
    CHECK(cells[i].top == cells[i + 1].top);
    CHECK(cells[i].right < cells[i + 1].left);
  }
}

TEST_CASE("pattern strip: cells hold the snippet and dots the punch, to a hundredth of a millimetre") {
  PatternStrip strip = plain_strip(2, 3);
  strip.punch_mm = 25.4;
  strip.snippet_width_mm = 30.0;
  strip.snippet_height_mm = 24.0;
  const Document document = lay_out_pattern_strip(strip, PageSize::a4);
  CHECK(dots_of_width(document, 25.4).size() == 3);
  int frames = 0;
  for (const Placed& placed : items_of(document.pages.front())) {
    const auto* box = std::get_if<BoxItem>(placed.item);
    if (box != nullptr && box->fill.kind == Ink::Kind::none && std::abs(box->width_mm - 30.0) < 0.01 &&
        std::abs(box->height_mm - 24.0) < 0.01)
      ++frames;
  }
  CHECK(frames == 4);
}

TEST_CASE("pattern strip: short strips go several to a page, and each copy has all of it") {
  PatternStrip strip = plain_strip(2, 4);
  strip.copies = 25;
  StripCount count;
  const Document document = lay_out_pattern_strip(strip, PageSize::a4, &count);
  REQUIRE(count.on_a_page >= 2);
  CHECK(document.pages.size() == (25 + count.on_a_page - 1) / count.on_a_page);
  CHECK(cells_of(document).size() == 25 * 4);
  CHECK(faults_of(document).overlaps == 0);
}

TEST_CASE("pattern strip: a sheet more leaves the labels of the others as they were") {
  const std::vector<std::string> few = cells_of(lay_out_pattern_strip(plain_strip(5, 4), PageSize::a4));
  const std::vector<std::string> more = cells_of(lay_out_pattern_strip(plain_strip(6, 4), PageSize::a4));
  REQUIRE(more.size() == few.size() + 2);
  CHECK(std::equal(few.begin(), few.end(), more.begin()));
}
