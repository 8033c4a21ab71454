// SPDX-License-Identifier: MIT
#include <doctest/doctest.h>

#include <cmath>

#include "advise/clash.h"
#include "advise/dice.h"
#include "advise/learn.h"

using namespace kithue;

namespace {

/// Pairs judged by a teacher whose near-miss band lies elsewhere, now and then against her own rule.
std::vector<LabelledPair> judged_pairs(Dice& dice, int count, const Bands& hers, double slips) {
  std::vector<LabelledPair> pairs;
  while (static_cast<int>(pairs.size()) < count) {
    const Lab a = dice.lab(40);
    const Lab b{a.L + dice.between(-8, 8), a.a + dice.between(-8, 8), a.b + dice.between(-8, 8)};
    LabelledPair pair{{"a", a, 0.0, nullptr}, {"b", b, 0.0, nullptr}, false};
    const PairVerdict verdict = judge_pair(pair.a, pair.b, hers);
    if (verdict.de00 > 14.0) continue;
    pair.clashes = is_clash(verdict.verdict) != dice.chance(slips);
    pairs.push_back(pair);
  }
  return pairs;
}

}  // namespace

TEST_CASE("learn_bands: finds another teacher's limits, and agrees with at least 54 of 60 of her pairs") {
  Dice dice(71);
  Bands hers;
  hers.match = 3.0;
  hers.near_miss = 8.0;
  for (int round = 0; round < 10; ++round) {
    const auto pairs = judged_pairs(dice, 60, hers, 0.03);
    const LearnedBands learned = learn_bands(pairs);
    REQUIRE(learned.too_few.empty());
    CHECK(learned.agree_after >= 54);
    CHECK(learned.agree_after >= learned.agree_before);
    CHECK(learned.agree_unseen >= 48);
    CHECK(learned.agree_unseen <= learned.agree_after);
    CHECK(std::fabs(learned.bands.match - 3.0) < 1.0);
    CHECK(std::fabs(learned.bands.near_miss - 8.0) < 2.0);
    CHECK(learned.bands.same < learned.bands.match);
    CHECK(learned.bands.near_miss < learned.bands.step);
  }
}

TEST_CASE("learn_bands: a teacher who agrees already changes nothing") {
  Dice dice(72);
  const auto pairs = judged_pairs(dice, 60, {}, 0.0);
  const LearnedBands learned = learn_bands(pairs);
  CHECK(learned.agree_before == 60);
  CHECK(learned.agree_after == 60);
  CHECK(learned.bands.match == 2.0);
  CHECK(learned.bands.near_miss == 6.0);
  CHECK(learned.bands.step == 12.0);
}

TEST_CASE("learn_bands: verdicts by chance are not agreed with on unseen pairs") {
  Dice dice(73);
  auto pairs = judged_pairs(dice, 200, {}, 0.0);
  for (auto& pair : pairs) pair.clashes = dice.chance(0.5);
  const LearnedBands learned = learn_bands(pairs);
  CHECK(learned.agree_unseen < 130);
}

TEST_CASE("learn_bands: too few pairs, or too few of one verdict, are refused with the number needed") {
  Dice dice(74);
  CHECK(learn_bands(judged_pairs(dice, 19, {}, 0.0)).too_few.find("it takes 20") != std::string::npos);
  auto pairs = judged_pairs(dice, 60, {}, 0.0);
  for (auto& pair : pairs) pair.clashes = false;
  const LearnedBands learned = learn_bands(pairs);
  CHECK_FALSE(learned.too_few.empty());
  CHECK(learned.bands.match == 2.0);
}

TEST_CASE("learn_bands: more than 200 pairs are left out a tenth at a time") {
  Dice dice(75);
  Bands hers;
  hers.match = 2.5;
  hers.near_miss = 5.0;
  const auto pairs = judged_pairs(dice, 400, hers, 0.02);
  const LearnedBands learned = learn_bands(pairs);
  CHECK(learned.agree_unseen > 360);
}
