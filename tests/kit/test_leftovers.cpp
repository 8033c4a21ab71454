// SPDX-License-Identifier: MIT
#include <doctest/doctest.h>

#include <random>

#include "cutting/checker.h"
#include "kit/leftovers.h"

using namespace kithue;

namespace {

constexpr std::int64_t kMm = kNanometresPerMm;

Size mm(std::int64_t width, std::int64_t height) {
  return {{width * kMm}, {height * kMm}};
}

CutJob one_piece(const Size& size, bool upright, bool turned) {
  return {"Sail", false, mm(300, 300), {{"Gulls: mat", size, 1, upright, turned, "", {}}}};
}

}  // namespace

TEST_CASE("leftovers: a scrap is offered exactly when the piece fits, 10,000 times") {
  std::mt19937_64 dice(41);
  const auto length = [&] { return Length{static_cast<std::int64_t>(2 * kMm + dice() % (200 * kMm))}; };
  int offered = 0;
  for (int i = 0; i < 10'000; ++i) {
    CutJob job = one_piece({length(), length()}, true, dice() % 2 == 0);
    if (dice() % 5 == 0) {
      job.pieces[0].upright = false;
      job.pieces[0].turned = true;
    }
    const Scrap scrap{"Sail", "", {length(), length()}, 1};
    const auto offers = what_fits(job, "", {scrap});
    const Size& size = job.pieces[0].size;
    const bool fits =
        (job.pieces[0].upright && size.width <= scrap.size.width && size.height <= scrap.size.height) ||
        (job.pieces[0].turned && size.height <= scrap.size.width && size.width <= scrap.size.height);
    CHECK(!offers.empty() == fits);
    offered += fits ? 1 : 0;
    if (!fits || i % 10 != 0) continue;
    // As many as it is said to give can be cut from it.
    job.sheet = scrap.size;
    job.pieces[0].count = offers[0].each;
    const auto plan = plan_cuts(job);
    REQUIRE(plan.has_value());
    CHECK(plan->sheets == 1);
    CHECK(cutting::fault_in(job, *plan) == "");
  }
  CHECK(offered > 1000);
}

TEST_CASE("leftovers: only the same paper is offered, the smallest scrap first") {
  const std::vector<Scrap> scraps{{"Sail", "", mm(200, 200), 1},
                                  {"SAIL", "", mm(60, 60), 2},
                                  {"Quay", "", mm(60, 60), 2},
                                  {"Sail", "", mm(60, 60), 0},
                                  {"Sail", "Harbour Morning", mm(60, 60), 1}};
  const auto offers = what_fits(one_piece(mm(50, 60), true, true), "Harbour Morning", scraps);
  REQUIRE(offers.size() == 2);
  CHECK(offers[0].scrap == 1);
  CHECK(offers[0].each == 1);
  CHECK(offers[1].scrap == 0);
  // A grid of four by three.
  CHECK(offers[1].each >= 12);
}

TEST_CASE("leftovers: what a plan leaves is kept by size, slivers are not") {
  const CutJob job{"Sail", false, mm(210, 297), {{"base", mm(210, 140), 4, true, false, "", {}}}};
  const auto plan = plan_cuts(job);
  REQUIRE(plan.has_value());
  const auto left = scraps_of(job, *plan, "K", {10 * kMm});
  REQUIRE(left.size() == 1);
  CHECK(left[0].size == mm(210, 17));
  CHECK(left[0].count == 2);
  CHECK(scraps_of(job, *plan, "K", {20 * kMm}).empty());
  const auto sum = with_scraps(left, left);
  REQUIRE(sum.size() == 1);
  CHECK(sum[0].count == 4);
}

TEST_CASE("leftovers: a scrap file gives back what was written; faults name their line") {
  const std::vector<Scrap> scraps{
      {"=Sail \"x\"", "", mm(210, 17), 2},
      {"1", "Harbour Morning", {{kNanometresPerInch / 8}, {kNanometresPerInch}}, 3}};
  for (const Unit unit : {Unit::mm, Unit::cm, Unit::inch}) {
    const auto back = scraps_from_csv(scraps_csv(scraps, unit), "scraps.csv");
    REQUIRE(back.has_value());
    REQUIRE(back->size() == 2);
    CHECK((*back)[0].paper == scraps[0].paper);
    CHECK((*back)[1].size == scraps[1].size);
    CHECK((*back)[1].count == 3);
  }
  const std::string head = "paper,pack,size,count\n";
  for (const char* line : {"Sail,,5 x 5,1", "Sail,,5 x 5 mm,", "Sail,,5 x 5 mm,-1", ",,5 x 5 mm,1"}) {
    const auto read = scraps_from_csv(head + line, "scraps.csv");
    REQUIRE(!read.has_value());
    CHECK(read.error().where == "scraps.csv:2");
    CHECK(!read.error().advice.empty());
  }
  CHECK(!scraps_from_csv("a,b\n", "scraps.csv").has_value());
}
