// SPDX-License-Identifier: MIT
#include <doctest/doctest.h>

#include <algorithm>
#include <random>
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

Pairs close_pairs_one_by_one(const Stash& stash) {
  Pairs pairs;
  for (const Swatch& x : stash.swatches) {
    for (const Swatch& y : stash.swatches) {
      if (x.id < y.id && x.kind == y.kind && ciede2000(*colour_of(x), *colour_of(y)) <= kCloseDe00)
        pairs.emplace_back(x.id, y.id);
    }
  }
  return pairs;
}

}  // namespace

TEST_CASE("check_stash: the close pairs are those that comparing every pair finds") {
  std::size_t found = 0;
  for (std::uint64_t seed = 1; seed <= 10; ++seed) {
    const Stash stash = clumped_stash(seed, 600);
    Pairs pairs;
    for (const Finding& finding : check_stash(stash)) {
      if (finding.code == "close") pairs.emplace_back(finding.ids.at(0), finding.ids.at(1));
    }
    CHECK(pairs == close_pairs_one_by_one(stash));
    found += pairs.size();
  }
  CHECK(found > 500);  // else the stashes show nothing
}
