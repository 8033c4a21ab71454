// SPDX-License-Identifier: MIT
#include <doctest/doctest.h>

#include <cmath>
#include <random>
#include <string>
#include <vector>

#include "colour/difference.h"
#include "colour/srgb.h"
#include "sheet/colour_map.h"
#include "sheet/layout_check.h"
#include "sheet/printer_check.h"
#include "sheet/student_page.h"

namespace {

using namespace kithue;
using namespace kithue_test;

ColourMap random_map(std::mt19937& random) {
  ColourMap map;
  map.name = random_name(random);
  const bool crowded = random() % 3 == 0;
  const auto lab = [&] {
    const double spread = crowded ? 10.0 : 160.0;
    return Lab{static_cast<double>(random() % 101),
               spread * (static_cast<double>(random() % 1000) / 1000.0 - 0.5),
               spread * (static_cast<double>(random() % 1000) / 1000.0 - 0.5)};
  };
  for (std::size_t i = random() % 60; i > 0; --i)
    map.pack.push_back({lab(), 0.001 * static_cast<double>(random() % 1000)});
  for (std::size_t i = 1 + random() % 40; i > 0; --i) {
    SheetDot dot = random_dot(random);
    if (dot.lab) dot.lab = lab();
    map.swatches.push_back(dot);
  }
  return map;
}

}  // namespace

TEST_CASE("colour map: on 500 random kits no number and no name is covered, and nothing leaves the page") {
  std::mt19937 random(20251109);
  for (int i = 0; i < 500; ++i) {
    CAPTURE(i);
    const ColourMap map = random_map(random);
    const Document document = lay_out_colour_map(map, i % 2 == 0 ? PageSize::a4 : PageSize::letter);
    int covered = 0;
    int off_page = 0;
    for (const Page& page : document.pages) {
      const std::vector<Placed> items = items_of(page);
      for (std::size_t a = 0; a < items.size(); ++a) {
        const Bounds& box = items[a].bounds;
        off_page += box.left < 9.9 || box.top < 9.9 || box.right > document.width_mm - 9.9 ||
                            box.bottom > document.height_mm - 9.9
                        ? 1
                        : 0;
        if (!is_text(*items[a].item)) continue;
        for (std::size_t b = 0; b < items.size(); ++b) {
          // The rings of chroma, the axes and the leading lines run behind the numbers.
          const auto* circle = std::get_if<CircleItem>(items[b].item);
          const auto* bar = std::get_if<BoxItem>(items[b].item);
          const bool mark = (circle != nullptr && circle->fill.kind == Ink::Kind::lab) ||
                            (bar != nullptr && bar->fill.kind == Ink::Kind::lab);
          if (a != b && (mark || is_text(*items[b].item))) covered += overlap(box, items[b].bounds) ? 1 : 0;
        }
      }
    }
    CHECK(covered == 0);
    CHECK(off_page == 0);
  }
}

TEST_CASE("colour map: every swatch has a mark on the plane, one on the ladder and its number in the list") {
  ColourMap map;
  map.name = "K";
  for (int i = 0; i < 12; ++i)
    map.swatches.push_back({"S" + std::to_string(i), "", Lab{20.0 + 5 * i, 3.0 * i - 10.0, 5.0}});
  map.swatches.push_back({"Foil", "", std::nullopt});
  const Document document = lay_out_colour_map(map, PageSize::a4);
  for (int i = 1; i <= 12; ++i) CHECK(lines_saying(document, std::to_string(i)) == 3);
  CHECK(lines_saying(document, "13") == 1);
  CHECK(lines_saying(document, "Foil: not measured") == 1);
  CHECK(lines_saying(document, "S11") == 1);
}

TEST_CASE("student page: on 500 random lists nothing overlaps, and nothing leaves the page") {
  std::mt19937 random(20251110);
  for (int i = 0; i < 500; ++i) {
    CAPTURE(i);
    StudentPage page;
    page.kit = random_name(random);
    page.student = random_name(random);
    if (random() % 2 == 0) page.date = random_name(random);
    for (std::size_t k = random() % 14; k > 0; --k) {
      StudentInk ink{random_dot(random), static_cast<StudentInk::Use>(random() % 3), random_dot(random)};
      if (random() % 3 != 0) ink.words = random_name(random);
      if (random() % 3 == 0) ink.caution = random_name(random);
      page.inks.push_back(ink);
    }
    const Faults faults =
        faults_of(lay_out_student_page(page, i % 2 == 0 ? PageSize::a4 : PageSize::letter, i % 4 == 3));
    CHECK(faults.off_page == 0);
    CHECK(faults.overlaps == 0);
  }
}

TEST_CASE("student page: eight inks are one page") {
  StudentPage page;
  page.kit = "Harbour Morning";
  page.student = "Robin";
  for (int i = 0; i < 8; ++i)
    page.inks.push_back({{"Ink", "pad", Lab{40, 20, 20}},
                         StudentInk::Use::stand_in,
                         {"Own", "pad", Lab{41, 20, 20}},
                         "a touch lighter"});
  CHECK(lay_out_student_page(page, PageSize::a4).pages.size() == 1);
  CHECK(lay_out_student_page(page, PageSize::letter).pages.size() == 1);
}

TEST_CASE("printer check: 48 patches on one page, all of which a screen can show") {
  const std::vector<Lab> patches = printer_patches();
  REQUIRE(patches.size() == kCheckColumns * kCheckRows);
  for (const Lab& lab : patches) CHECK(in_srgb_gamut(lab));
  for (const PageSize size : {PageSize::a4, PageSize::letter}) {
    const Document document = lay_out_printer_check(size);
    CHECK(document.pages.size() == 1);
    const Faults faults = faults_of(document);
    CHECK(faults.overlaps == 0);
    CHECK(faults.off_page == 0);
  }
}

TEST_CASE("printer check: readings equal to the patches are 0 off, and one that is off is found") {
  std::vector<std::pair<std::size_t, Lab>> readings;
  const std::vector<Lab> patches = printer_patches();
  for (std::size_t i = 0; i < patches.size(); ++i) readings.emplace_back(i + 1, patches[i]);
  auto error = printer_error(readings);
  REQUIRE(error.has_value());
  CHECK(error->mean == 0.0);
  CHECK(error->worst == 0.0);
  readings[16].second.b += 7.0;
  error = printer_error(readings);
  const double off = ciede2000(patches[16], readings[16].second);
  CHECK(error->worst == off);
  CHECK(error->worst_patch == 17);
  CHECK(std::abs(error->mean - off / 48.0) < 1e-12);
  CHECK_FALSE(printer_error({{0, Lab{}}, {49, Lab{}}}).has_value());
}
