// SPDX-License-Identifier: MIT
#include <doctest/doctest.h>

#include <random>
#include <string>

#include "sheet/cut_sheet.h"
#include "sheet/layout_check.h"

namespace {

using namespace kithue;
using namespace kithue_test;

Length mm(double value) {
  return {static_cast<std::int64_t>(value * static_cast<double>(kNanometresPerMm))};
}

CutPaper paper_of(const std::string& name, std::vector<CutPiece> pieces) {
  CutPaper paper{name, Lab{80, 0, 5}};
  paper.job = {name, false, {mm(304.8), mm(304.8)}, std::move(pieces)};
  auto plan = plan_cuts(paper.job);
  REQUIRE(plan.has_value());
  paper.plan = *std::move(plan);
  return paper;
}

}  // namespace

TEST_CASE("cut sheet: on 500 random kits nothing overlaps, and nothing leaves the page") {
  std::mt19937 random(20251111);
  for (int i = 0; i < 500; ++i) {
    CAPTURE(i);
    CutSheet sheet{random_name(random), random_name(random), random_name(random)};
    sheet.unit = static_cast<Unit>(random() % 3);
    std::vector<CutPiece> pieces;
    for (std::size_t k = 1 + random() % 3; k > 0; --k) {
      CutPiece piece{
          random_name(random) + std::to_string(k),
          {mm(10.0 + static_cast<double>(random() % 200)), mm(10.0 + static_cast<double>(random() % 200))},
          1 + static_cast<std::int64_t>(random() % 12)};
      if (random() % 3 == 0) piece.face = random_name(random);
      if (random() % 3 == 0) piece.scores = {mm(5.0)};
      pieces.push_back(piece);
    }
    sheet.papers.push_back(paper_of(random_name(random), pieces));
    const Faults faults =
        faults_of(lay_out_cut_sheet(sheet, i % 2 == 0 ? PageSize::a4 : PageSize::letter), true);
    CHECK(faults.off_page == 0);
    CHECK(faults.overlaps == 0);
    CHECK(faults.not_held == 0);
  }
}

TEST_CASE("cut sheet: the running totals end with every piece cut, and the caution is on it") {
  CutSheet sheet{"Harbour Morning", "2026-03", "24 kits", Unit::inch};
  sheet.papers.push_back(paper_of("Sailcloth", {{"Gulls: base", {mm(215.9), mm(139.7)}, 25}}));
  const Document document = lay_out_cut_sheet(sheet, PageSize::a4);
  std::string text;
  for (const Page& page : document.pages) {
    for (const Placed& placed : items_of(page)) {
      const auto* line = std::get_if<TextItem>(placed.item);
      if (line != nullptr) text += line->line.text + (line->line.text.ends_with(' ') ? "" : " ");
    }
  }
  CHECK(text.find("25 of 25 are cut") != std::string::npos);
  CHECK(text.find("Trimmer blades are sharp") != std::string::npos);
  CHECK(text.find("Gulls: base, 8 1/2 x 5 1/2 in") != std::string::npos);
}
