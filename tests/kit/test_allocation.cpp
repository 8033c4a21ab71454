// SPDX-License-Identifier: MIT
#include <doctest/doctest.h>

#include <map>

#include "cutting/random_share.h"
#include "kit/allocation.h"

using namespace kithue;

TEST_CASE("allocation: on random jobs no area shows two sides, and no sheet is used that is not there") {
  std::mt19937_64 dice(31);
  for (int i = 0; i < 60; ++i) {
    CAPTURE(i);
    const AllocationJob job = cutting::random_share(dice, false);
    const auto allocation = allocate(job);
    REQUIRE(allocation.has_value());
    CHECK(cutting::fault_in(job, *allocation) == "");
  }
}

TEST_CASE("allocation: the score of small jobs is the best of all ways to share out") {
  std::mt19937_64 dice(32);
  for (int i = 0; i < 60; ++i) {
    CAPTURE(i);
    const AllocationJob job = cutting::random_share(dice, true);
    const auto allocation = allocate(job);
    REQUIRE(allocation.has_value());
    CHECK(allocation->score == cutting::best_score(job));
    CHECK(cutting::fault_in(job, *allocation) == "");
  }
}

TEST_CASE("allocation: a piece that shows A spends B, so another sheet steps in") {
  const auto kit = parse_kit(
      "name = \"K\"\nkits = 4\n[pack]\nsheet = \"12 x 12 in\"\n"
      "[[face]]\nlabel = \"1A\"\ncolours = [\"#fff\"]\n[[face]]\nlabel = \"1B\"\ncolours = [\"#000\"]\n"
      "[[face]]\nlabel = \"2A\"\ncolours = [\"#00f\"]\n"
      "[[card]]\nname = \"C\"\n"
      "[[card.piece]]\nname = \"a\"\nface = \"1A\"\nsize = \"6 x 6 in\"\nwish = 5\n"
      "[[card.piece]]\nname = \"b\"\nface = \"1B\"\nor = [\"2A\"]\nsize = \"6 x 6 in\"\n",
      "kit.toml");
  REQUIRE(kit.has_value());
  const auto allocation = allocate(allocation_job(*kit, 1));
  REQUIRE(allocation.has_value());
  // One copy of each sheet: four squares. 1A takes all of sheet 1; b comes from 2A, for one less than two.
  CHECK(allocation->best);
  CHECK(allocation->score == 4 * 5 + 4 * 1);
  CHECK(allocation->best_score == 4 * 5 + 4 * 2);
  REQUIRE(allocation->granted.size() == 2);
  CHECK(allocation->granted[1].side == 1);
  CHECK(allocation->granted[1].count == 4);
}

TEST_CASE("allocation: portions and snippets come before wishes, and no packs give nothing") {
  const auto kit = parse_kit(
      "name = \"K\"\nkits = 3\n[pack]\nsheet = \"12 x 12 in\"\n[[portion]]\nsize = \"6 x 6 in\"\n"
      "[[face]]\nlabel = \"1A\"\ncolours = [\"#fff\"]\n"
      "[[card]]\nname = \"C\"\n[[card.piece]]\nname = \"a\"\nface = \"1A\"\nsize = \"6 x 6 in\"\nwish = "
      "1000\n",
      "kit.toml");
  REQUIRE(kit.has_value());
  const auto one = allocate(allocation_job(*kit, 1));
  REQUIRE(one.has_value());
  std::map<std::string, std::int64_t> counts;
  const AllocationJob job = allocation_job(*kit, 1);
  for (const Granted& granted : one->granted) counts[job.wishes[granted.wish].name] += granted.count;
  CHECK(counts["portion"] == 3);
  CHECK(counts["C: a"] == 1);
  const auto none = allocate(allocation_job(*kit, 0));
  REQUIRE(none.has_value());
  CHECK(none->granted.empty());
  CHECK(none->score == 0);
}
