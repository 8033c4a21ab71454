// SPDX-License-Identifier: MIT
#include <doctest/doctest.h>

#include <algorithm>
#include <numeric>
#include <random>
#include <set>
#include <string>
#include <utility>
#include <vector>

#include "advise/swatches.h"
#include "colour/difference.h"
#include "swatch/check.h"

using namespace kithue;

namespace {

using Pairs = std::vector<std::pair<int, int>>;

/// Swatches in clumps, so that many pairs are about as far apart as the limit; saturated blues among them,
/// where the rotation term of CIEDE2000 lets a* and b* part the most.
Stash clumped_stash(std::uint64_t seed, int count) {
  std::mt19937_64 random(seed);
  std::uniform_real_distribution<double> lightness(5, 95);
  std::uniform_real_distribution<double> side(-80, 80);
  std::normal_distribution<double> step(0.0, 0.8);
  Stash stash;
  Lab centre;
  for (int id = 1; id <= count; ++id) {
    if (id % 8 == 1)
      centre = id % 3 == 1 ? Lab{30, 40, -100} : Lab{lightness(random), side(random), side(random)};
    const Lab lab{centre.L + step(random), centre.a + 2 * step(random), centre.b + 2 * step(random)};
    stash.swatches.push_back(
        swatch_with(id, "swatch " + std::to_string(id), id % 5 == 0 ? Kind::ink : Kind::stock, lab));
  }
  stash.next_id = count + 1;
  return stash;
}

/// Each swatch of `ids` with its nearest, the lower id of two as near.
Pairs close_pairs_one_by_one(const Stash& stash, const std::vector<int>& ids) {
  std::set<std::pair<int, int>> pairs;
  for (const Swatch& x : stash.swatches) {
    if (std::find(ids.begin(), ids.end(), x.id) == ids.end()) continue;
    const Swatch* nearest = nullptr;
    double least = kCloseDe00;
    for (const Swatch& y : stash.swatches) {
      if (x.id == y.id || x.kind != y.kind) continue;
      const double apart = ciede2000(*colour_of(x), *colour_of(y));
      if (apart < least || (nearest == nullptr && apart <= least)) {
        nearest = &y;
        least = apart;
      }
    }
    if (nearest != nullptr) pairs.insert(std::minmax(x.id, nearest->id));
  }
  return {pairs.begin(), pairs.end()};
}

Pairs close_pairs(const std::vector<Finding>& findings) {
  Pairs pairs;
  for (const Finding& finding : findings) {
    if (finding.code == "close") pairs.emplace_back(finding.ids.at(0), finding.ids.at(1));
  }
  return pairs;
}

}  // namespace

TEST_CASE("check_stash: each swatch with its nearest, as comparing every pair finds it") {
  std::size_t found = 0;
  for (std::uint64_t seed = 1; seed <= 20; ++seed) {
    const Stash stash = clumped_stash(seed, 600);
    std::vector<int> all(600);
    std::iota(all.begin(), all.end(), 1);
    const Pairs pairs = close_pairs(check_stash(stash));
    CHECK(pairs == close_pairs_one_by_one(stash, all));
    found += pairs.size();
    const std::vector<int> some{5, 6, 7, 100, 333, 600};
    CHECK(close_pairs(duplicate_findings(stash, some)) == close_pairs_one_by_one(stash, some));
  }
  CHECK(found > 500);  // else the stashes show nothing
}

TEST_CASE("check_stash: many of one colour give one finding each, not one for every pair") {
  Stash stash;
  for (int id = 1; id <= 1000; ++id)
    stash.swatches.push_back(swatch_with(id, "swatch " + std::to_string(id), Kind::stock, {50, 1, 2}));
  const Pairs pairs = close_pairs(check_stash(stash));
  REQUIRE(pairs.size() == 999);
  CHECK(pairs.front() == std::pair{1, 2});
  CHECK(pairs.back() == std::pair{1, 1000});
}
