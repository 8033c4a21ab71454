// SPDX-License-Identifier: MIT
#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>
#include <string>

#include "advise/dice.h"
#include "advise/set_search.h"
#include "colour/difference.h"

using namespace kithue;

namespace {

/// Colours on colours, with rules in most jobs.
SetProblem random_problem(Dice& dice, int most_items, int most_targets, int most_count) {
  SetProblem p;
  p.items = static_cast<std::size_t>(dice.whole(2, most_items));
  p.targets = static_cast<std::size_t>(dice.whole(1, most_targets));
  p.count = std::min(p.items, static_cast<std::size_t>(dice.whole(1, most_count)));
  std::vector<Lab> items;
  for (std::size_t i = 0; i < p.items; ++i) items.push_back(dice.lab());
  if (dice.chance(0.3)) items.back() = items.front();  // ties
  std::vector<Lab> targets;
  for (std::size_t t = 0; t < p.targets; ++t) targets.push_back(dice.lab());
  for (const Lab& item : items) {
    for (const Lab& target : targets)
      p.cost.push_back(ciede2000(item, target) * (1.0 + (item.L > 50 ? 0 : 1)));
  }
  for (std::size_t i = 0; i < p.items; ++i) {
    for (std::size_t k = i + 1; k < p.items; ++k) {
      if (dice.chance(0.06)) p.conflicts.emplace_back(i, k);
    }
  }
  const int covers = dice.whole(0, 3);
  for (int k = 0; k < covers; ++k) {
    std::vector<std::size_t> cover;
    for (std::size_t i = 0; i < p.items; ++i) {
      if (dice.chance(0.25)) cover.push_back(i);
    }
    p.covers.push_back(cover);
  }
  if (dice.chance(0.3)) p.must.push_back(dice.index(p.items));
  if (dice.chance(0.3)) p.never.push_back(dice.index(p.items));
  if (dice.chance(0.4)) {
    for (std::size_t i = 0; i < p.items; ++i) p.price.push_back(dice.whole(0, 900));
    p.budget = static_cast<std::int64_t>(p.count) * dice.whole(150, 700);
  }
  return p;
}

struct CheapestSet {
  bool feasible = false;
  double cost = 1e300;
};

/// Every set of the right size, tried.
CheapestSet by_trying_all(const SetProblem& p) {
  CheapestSet best;
  std::vector<std::size_t> set(p.count);
  for (std::size_t k = 0; k < p.count; ++k) set[k] = k;
  for (;;) {
    if (keeps_rules(p, set)) {
      best.feasible = true;
      best.cost = std::min(best.cost, set_cost(p, set));
    }
    std::size_t k = p.count;
    while (k > 0 && set[k - 1] == p.items - p.count + k - 1) --k;
    if (k == 0) return best;
    ++set[k - 1];
    for (std::size_t m = k; m < p.count; ++m) set[m] = set[m - 1] + 1;
  }
}

}  // namespace

TEST_CASE("best_set: the cost of the best set by trying all, rules and all, on 600 random jobs") {
  Dice dice(101);
  int feasible = 0;
  int impossible = 0;
  for (int job = 0; job < 600; ++job) {
    const SetProblem p = random_problem(dice, 18, 24, 4);
    const CheapestSet brute = by_trying_all(p);
    const SetAnswer answer = best_set(p);
    CAPTURE(job);
    REQUIRE(answer.proved);
    REQUIRE(answer.feasible == brute.feasible);
    if (!brute.feasible) {
      ++impossible;
      continue;
    }
    ++feasible;
    REQUIRE(std::fabs(answer.cost - brute.cost) < 1e-8);
    REQUIRE(keeps_rules(p, answer.chosen));
    REQUIRE(set_cost(p, answer.chosen) == answer.cost);
    REQUIRE(answer.bound <= answer.cost + 1e-8);
    REQUIRE(answer.root_bound <= brute.cost + 1e-8);
  }
  CHECK(feasible > 300);
  CHECK(impossible > 50);
}

TEST_CASE("best_set: sizes from one to all of the items") {
  Dice dice(102);
  for (int job = 0; job < 40; ++job) {
    SetProblem p = random_problem(dice, 10, 12, 1);
    p.covers.clear();
    for (p.count = 1; p.count <= p.items; ++p.count) {
      const CheapestSet brute = by_trying_all(p);
      const SetAnswer answer = best_set(p);
      REQUIRE(answer.proved);
      REQUIRE(answer.feasible == brute.feasible);
      if (brute.feasible) REQUIRE(std::fabs(answer.cost - brute.cost) < 1e-8);
    }
  }
}

TEST_CASE("best_set: when the work runs out it says so, and its bound still holds") {
  Dice dice(103);
  int unproved = 0;
  for (int job = 0; job < 40; ++job) {
    SetProblem p = random_problem(dice, 18, 40, 5);
    p.conflicts.clear();
    for (std::size_t i = 0; i < p.items; ++i) {
      for (std::size_t k = i + 1; k < p.items; ++k) {
        if (dice.chance(0.3)) p.conflicts.emplace_back(i, k);
      }
    }
    const CheapestSet brute = by_trying_all(p);
    const SetAnswer answer = best_set(p, 1);
    if (answer.proved) continue;
    ++unproved;
    if (brute.feasible) CHECK(answer.bound <= brute.cost + 1e-8);
    if (answer.feasible) CHECK(answer.cost >= brute.cost - 1e-8);
  }
  CHECK(unproved > 0);
}

TEST_CASE("best_set: impossible rules are proved impossible") {
  SetProblem p;
  p.items = 3;
  p.targets = 1;
  p.cost = {1, 2, 3};
  p.count = 2;
  p.conflicts = {{0, 1}, {0, 2}, {1, 2}};
  SetAnswer answer = best_set(p);
  CHECK((!answer.feasible && answer.proved));
  p.conflicts = {};
  p.covers = {{}};
  answer = best_set(p);
  CHECK((!answer.feasible && answer.proved));
  p.covers = {};
  p.must = {0, 1, 2};
  CHECK_FALSE(best_set(p).feasible);
  p.must = {1};
  p.never = {1};
  CHECK_FALSE(best_set(p).feasible);
  p.never = {};
  answer = best_set(p);
  CHECK(answer.chosen == std::vector<std::size_t>{0, 1});
  p.count = 4;
  CHECK_FALSE(best_set(p).feasible);
}

TEST_CASE("best_set: the same problem gives the same set every time") {
  Dice dice(104);
  for (int job = 0; job < 20; ++job) {
    const SetProblem p = random_problem(dice, 40, 30, 6);
    const SetAnswer once = best_set(p);
    const SetAnswer again = best_set(p);
    CHECK(once.chosen == again.chosen);
    CHECK(once.cost == again.cost);
  }
}
