// SPDX-License-Identifier: MIT
#include <doctest/doctest.h>

#include "cutting/checker.h"
#include "cutting/random_job.h"
#include "kit/cut_plan.h"

using namespace kithue;

namespace {

constexpr std::int64_t kEighth = kNanometresPerInch / 8;

Size inches_8(std::int64_t width, std::int64_t height) {
  return {{width * kEighth}, {height * kEighth}};
}

CutJob job_of(std::vector<CutPiece> pieces, Size sheet = inches_8(96, 96)) {
  return {"Sailcloth", false, sheet, std::move(pieces)};
}

CutPlan planned(const CutJob& job) {
  const auto plan = plan_cuts(job);
  REQUIRE(plan.has_value());
  CHECK(cutting::fault_in(job, *plan) == "");
  return *plan;
}

}  // namespace

TEST_CASE(
    "cutting plan: random jobs come apart cut by cut into their pieces and offcuts, none turned that may "
    "not") {
  std::mt19937_64 dice(20260301);
  for (int i = 0; i < 120; ++i) {
    CAPTURE(i);
    const CutJob job = cutting::random_job(dice, false);
    const auto plan = plan_cuts(job);
    REQUIRE(plan.has_value());
    CHECK(cutting::fault_in(job, *plan) == "");
  }
}

TEST_CASE("cutting plan: small jobs take as few sheets as trying every plan") {
  std::mt19937_64 dice(20260302);
  for (int i = 0; i < 150; ++i) {
    CAPTURE(i);
    const CutJob job = cutting::random_job(dice, true);
    const auto plan = plan_cuts(job);
    REQUIRE(plan.has_value());
    CHECK(plan->sheets == cutting::fewest_sheets(job));
  }
}

TEST_CASE("cutting plan: pieces that fill the sheet exactly leave nothing") {
  // Twelve by twelve inches hold nine squares of four, and eight of 3 x 6.
  const CutPlan squares = planned(job_of({{"square", inches_8(32, 32), 18, true, true, "", {}}}));
  CHECK(squares.sheets == 2);
  CHECK(squares.fewest);
  CHECK(squares.waste < 1e-12);
  CHECK(squares.plans.size() == 1);
  CHECK(squares.plans.front().left.empty());
  CHECK(planned(job_of({{"half", inches_8(24, 48), 8, true, true, "", {}}})).sheets == 1);
}

TEST_CASE("cutting plan: a piece that may not be turned takes more sheets than one that may") {
  // 5 x 7 in from 7 x 10 in: lying, two fit; standing, one.
  const Size sheet = inches_8(56, 80);
  const auto free = planned(job_of({{"card", inches_8(40, 56), 10, true, true, "", {}}}, sheet));
  const auto upright = planned(job_of({{"card", inches_8(40, 56), 10, true, false, "1A", {}}}, sheet));
  CHECK(free.sheets == 5);
  CHECK(upright.sheets == 10);
  for (const SheetPlan& plan : upright.plans) {
    for (const PlacedPiece& placed : plan.pieces) CHECK(!placed.turned);
  }
}

TEST_CASE("cutting plan: the last sheet holds only what is still wanted, and the running totals end at it") {
  const CutJob job = job_of({{"Gulls: mat", inches_8(32, 42), 20, true, true, "", {}},
                             {"Net loft: mat", inches_8(32, 42), 9, true, true, "", {}}});
  const CutPlan plan = planned(job);
  CHECK(plan.sheets == 5);  // six on a sheet
  CHECK(cut_so_far(job, plan, 0) == std::vector<std::int64_t>{0, 0});
  CHECK(cut_so_far(job, plan, plan.plans.size()) == std::vector<std::int64_t>{20, 9});
}

TEST_CASE("cutting plan: strips are cut before pieces, and steps rise") {
  const CutPlan plan = planned(job_of({{"band", inches_8(24, 16), 24, true, true, "", {}}}));
  REQUIRE(plan.plans.size() == 1);
  const std::vector<Cut>& cuts = plan.plans.front().cuts;
  REQUIRE(cuts.size() > 2);
  // The first step runs the whole way through the sheet.
  CHECK(cuts.front().part.size == inches_8(96, 96));
}

TEST_CASE("cutting plan: fold lines lie across the longer side, turned with their piece") {
  const CutPiece base{"base", inches_8(68, 44), 1, true, true, "", {{34 * kEighth}}};
  const PlacedPiece standing{0, {{0}, {0}, base.size}, false};
  const auto upright = score_lines(base, standing);
  REQUIRE(upright.size() == 1);
  CHECK(upright.front().x1.nm == 34 * kEighth);
  CHECK(upright.front().x2.nm == 34 * kEighth);
  CHECK(upright.front().y2.nm == 44 * kEighth);
  const PlacedPiece lying{0, {{kEighth}, {kEighth}, inches_8(44, 68)}, true};
  const auto turned = score_lines(base, lying);
  REQUIRE(turned.size() == 1);
  CHECK(turned.front().y1.nm == 35 * kEighth);
  CHECK(turned.front().y2.nm == 35 * kEighth);
  CHECK(turned.front().x1.nm == kEighth);
  CHECK(turned.front().x2.nm == 45 * kEighth);
}

TEST_CASE("cutting plan: a piece that fits no way is named; nothing to cut takes no sheet") {
  const auto large = plan_cuts(job_of({{"Gulls: base", inches_8(100, 10), 1, true, true, "", {}}}));
  REQUIRE(!large.has_value());
  CHECK(large.error().kind == ErrorKind::impossible);
  CHECK(large.error().what.find("Gulls: base") != std::string::npos);
  CHECK(
      !plan_cuts(job_of({{"tall", inches_8(10, 40), 1, true, false, "", {}}}, inches_8(90, 30))).has_value());
  CHECK(!plan_cuts(job_of({{"thread", {{1000}, {kEighth}}, 1, true, true, "", {}}})).has_value());
  CHECK(planned(job_of({{"none", inches_8(8, 8), 0, true, true, "", {}}})).sheets == 0);
  CHECK(planned(job_of({})).sheets == 0);
}

TEST_CASE("cutting plan: a hundred million pieces are counted, not listed") {
  const CutJob job = job_of({{"square", inches_8(32, 32), 100'000'000, true, true, "", {}}});
  const CutPlan plan = planned(job);
  CHECK(plan.sheets == 11'111'112);
  CHECK(plan.plans.size() == 2);
}
