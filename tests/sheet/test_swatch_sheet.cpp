// SPDX-License-Identifier: MIT
#include <doctest/doctest.h>

#include <cmath>
#include <memory>
#include <random>
#include <string>
#include <vector>

#include "colour/srgb.h"
#include "icc/matrix_profile.h"
#include "sheet/layout_check.h"
#include "sheet/outside.h"
#include "sheet/pdf.h"
#include "sheet/swatch_sheet.h"

namespace {

using namespace kithue;
using namespace kithue_test;

SwatchSheet random_sheet(std::mt19937& random, std::size_t most_faces) {
  SwatchSheet sheet;
  sheet.name = random_name(random);
  if (random() % 2 == 0) sheet.date = random_name(random);
  for (std::size_t i = random() % 4; i > 0; --i) sheet.base.push_back(random_dot(random));
  for (std::size_t i = random() % 6; i > 0; --i) sheet.always.push_back(random_dot(random));
  const auto profile = std::make_shared<const std::string>("profile");
  const std::size_t faces = 1 + random() % most_faces;
  for (std::size_t i = 0; i < faces; ++i) {
    SheetFace face;
    face.label = random() % 4 == 0 ? random_name(random) : std::to_string(i) + "A";
    if (random() % 3 != 0) {
      face.picture = sheet.pictures.size();
      const int width = 1 + static_cast<int>(below(random, below(random, 5) == 0 ? 3 : 40));
      const int height = 1 + static_cast<int>(below(random, below(random, 5) == 0 ? 3 : 40));
      sheet.pictures.push_back({width, height,
                                std::vector<unsigned char>(static_cast<std::size_t>(3 * width * height), 128),
                                profile});
    } else {
      for (std::size_t k = 1 + random() % 6; k > 0; --k) face.colours.push_back({{50, 10, 10}, 0.1, "motif"});
    }
    for (std::size_t k = below(random, below(random, 10) == 0 ? 30 : 5); k > 0; --k)
      face.stocks.push_back(random_dot(random));
    for (std::size_t k = random() % 5; k > 0; --k) face.inks.push_back(random_dot(random));
    sheet.faces.push_back(face);
  }
  return sheet;
}

SwatchSheet plain_sheet(std::size_t faces) {
  SwatchSheet sheet;
  sheet.name = "Harbour Morning";
  sheet.base = {{"Sailcloth", "", Lab{94, 0, 6}}};
  sheet.always = {{"Pitch Black", "pad", Lab{18, 0, 0}}};
  for (std::size_t i = 0; i < faces; ++i) {
    SheetFace face;
    face.label = std::to_string(i / 2 + 1) + (i % 2 == 0 ? "A" : "B");
    face.colours = {{{70, -20, -20}, 0.7, "ground"}, {{40, 30, 20}, 0.3, "motif"}};
    face.stocks = {{"Wet Sand", "", Lab{74, 6, 18}},
                   {"Office Staff", "", Lab{60, 10, -20}},
                   {"Gull", "", Lab{80, -1, -2}}};
    face.inks = {{"Samphire", "pad", Lab{45, -25, 20}},
                 {"Buoy", "marker", Lab{52, 55, 30}},
                 {"Deep", "wash", Lab{30, 5, -35}}};
    sheet.faces.push_back(face);
  }
  return sheet;
}

std::size_t labels_on(const Page& page) {
  std::size_t count = 0;
  for (const Block& block : page.blocks) count += block.role == BlockRole::heading ? 1 : 0;
  return count;
}

}  // namespace

TEST_CASE("swatch sheet: on 500 random kits nothing overlaps, and nothing leaves the page") {
  std::mt19937 random(20241101);
  for (int i = 0; i < 500; ++i) {
    CAPTURE(i);
    const SwatchSheet sheet = random_sheet(random, 8);
    const Document document = lay_out_swatch_sheet(sheet, i % 2 == 0 ? PageSize::a4 : PageSize::letter);
    Faults faults;
    for (const Page& page : document.pages) look_at(page, document, faults);
    CHECK(faults.off_page == 0);
    CHECK(faults.overlaps == 0);
    CHECK(faults.not_held == 0);
  }
}

TEST_CASE("swatch sheet: a kit with a blank name keeps its running head clear of the dots") {
  SwatchSheet sheet = plain_sheet(7);
  sheet.name = " ";
  const Document document = lay_out_swatch_sheet(sheet, PageSize::a4);
  REQUIRE(document.pages.size() == 3);
  Faults faults;
  for (const Page& page : document.pages) look_at(page, document, faults);
  CHECK(faults.overlaps == 0);
}

TEST_CASE("swatch sheet: every name that was given is on it, in the order of the kit") {
  std::mt19937 random(5);
  for (int i = 0; i < 40; ++i) {
    SwatchSheet sheet = random_sheet(random, 6);
    std::vector<std::string> wanted;
    for (SheetFace& face : sheet.faces) {
      for (auto* list : {&face.stocks, &face.inks}) {
        for (SheetDot& dot : *list) {
          dot.name = "N" + std::to_string(wanted.size());
          wanted.push_back(dot.name);
        }
      }
    }
    const Document document = lay_out_swatch_sheet(sheet, PageSize::letter);
    std::size_t next = 0;
    for (const Page& page : document.pages) {
      for (const Block& block : page.blocks) {
        for (const Drawing& item : block.items) {
          const auto* text = std::get_if<TextItem>(&item);
          if (text != nullptr && next < wanted.size() && text->line.text == wanted[next]) ++next;
        }
      }
    }
    CHECK(next == wanted.size());
  }
}

TEST_CASE("swatch sheet: three faces to a page, 48 faces on 16 pages, on A4 and on Letter") {
  for (const PageSize size : {PageSize::a4, PageSize::letter}) {
    const Document document = lay_out_swatch_sheet(plain_sheet(48), size);
    CHECK(document.pages.size() == 16);
    for (const Page& page : document.pages) CHECK(labels_on(page) == 3);
  }
}

TEST_CASE("swatch sheet: every dot has its name beside it and a ring of 20 mm for the real chip") {
  const Document document = lay_out_swatch_sheet(plain_sheet(1), PageSize::a4);
  int dots = 0;
  int rings = 0;
  for (const Placed& placed : items_of(document.pages.front())) {
    const auto* circle = std::get_if<CircleItem>(placed.item);
    if (circle == nullptr || circle->radius_mm < 9.0) continue;
    (circle->fill.kind == Ink::Kind::lab ? dots : rings) += 1;
    CHECK(std::abs(placed.bounds.right - placed.bounds.left - 20.0) < 0.3);
  }
  CHECK(dots == 6);
  CHECK(rings == 6);
}

TEST_CASE("swatch sheet: a pale dot has an edge, a deep one has none") {
  SwatchSheet sheet = plain_sheet(1);
  sheet.base.clear();
  sheet.always.clear();
  sheet.faces[0].inks.clear();
  sheet.faces[0].stocks = {{"White", "", Lab{99, 0, 0}}, {"Deep", "", Lab{30, 0, 0}}};
  const Document document = lay_out_swatch_sheet(sheet, PageSize::a4);
  int edged = 0;
  for (const Placed& placed : items_of(document.pages.front())) {
    const auto* circle = std::get_if<CircleItem>(placed.item);
    if (circle == nullptr || circle->fill.kind != Ink::Kind::lab) continue;
    const bool edge = circle->stroke.ink.kind != Ink::Kind::none;
    CHECK(edge == (circle->fill.lab.L > 90));
    edged += edge ? 1 : 0;
  }
  CHECK(edged == 1);
}

TEST_CASE("swatch sheet: it shows words and colours, never L*a*b* numbers") {
  const TestFolder folder;
  const Result<std::string> pdf = pdf_from(lay_out_swatch_sheet(plain_sheet(3), PageSize::a4));
  REQUIRE(pdf.has_value());
  const std::string text = output_of("pdftotext " + folder.put("sheet.pdf", *pdf) + " -");
  CHECK(text.find("lab(") == std::string::npos);
  CHECK(text.find("L*") == std::string::npos);
  CHECK(text.find("orientation only") != std::string::npos);
  CHECK(text.find("real chips") != std::string::npos);
  CHECK(text.find("Page 1 of 1") != std::string::npos);
  CHECK(text.find("Office Staff") != std::string::npos);
}

TEST_CASE("swatch sheet: the check lines measure 100 mm and 4 in on the drawn page") {
  const TestFolder folder;
  for (const PageSize size : {PageSize::a4, PageSize::letter}) {
    const Document document = lay_out_swatch_sheet(plain_sheet(1), size);
    const Result<std::string> pdf = pdf_from(document);
    REQUIRE(pdf.has_value());
    const Pixmap page = drawn_page(folder, folder.put("sheet.pdf", *pdf), 1, 254);  // 10 pixels a millimetre
    // The end ticks are the only ones that reach 2 mm from their line.
    const auto distance_of_end_ticks = [&](double y_mm) {
      std::vector<double> centres;
      const int y = static_cast<int>(std::lround(10.0 * y_mm));
      for (int x = 0; x < 1300; ++x) {
        double ink = 0.0;
        double place = 0.0;
        for (; x < 1300 && page.channel(x, y, 0) < 250; ++x) {
          ink += 255 - page.channel(x, y, 0);
          place += (255 - page.channel(x, y, 0)) * (x + 0.5);
        }
        if (ink > 0.0) centres.push_back(place / ink);
      }
      REQUIRE(centres.size() >= 2);
      return (centres[1] - centres[0]) / 10.0;
    };
    const double footer = document.height_mm - 29.0;
    const double metric = distance_of_end_ticks(footer + 6.2 - 2.05);
    const double inches = distance_of_end_ticks(footer + 8.6 + 2.05);
    MESSAGE("check lines: ", metric, " mm and ", inches / 25.4, " in");
    CHECK(std::abs(metric - 100.0) < 0.05);
    CHECK(std::abs(inches - 101.6) < 0.05);
  }
}
