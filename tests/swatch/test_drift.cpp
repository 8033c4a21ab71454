// SPDX-License-Identifier: MIT
#include <doctest/doctest.h>

#include <cmath>

#include "advise/dice.h"
#include "advise/swatches.h"
#include "colour/difference.h"
#include "swatch/drift.h"

using namespace kithue;

namespace {

/// A normal number by the sum of twelve even ones would have short tails; this is Box and Muller's.
double normal(Dice& dice, double sd) {
  const double u = 1.0 - dice.between(0.0, 1.0);
  return sd * std::sqrt(-2.0 * std::log(u)) * std::cos(6.283185307179586 * dice.between(0.0, 1.0));
}

void add_readings(Swatch& swatch, const Lab& truth, const std::string& batch, int count, Dice& dice,
                  double sd) {
  for (int i = 0; i < count; ++i) {
    Reading reading;
    reading.lab = {truth.L + normal(dice, sd), truth.a + normal(dice, sd), truth.b + normal(dice, sd)};
    reading.batch = batch;
    swatch.readings.push_back(reading);
  }
}

/// A colour at a distance from another in some way.
Lab shifted(const Lab& from, double de00, Dice& dice) {
  const Lab way{normal(dice, 1.0), normal(dice, 1.0), normal(dice, 1.0)};
  double low = 0.0;
  double high = 50.0;
  const auto at = [&](double t) { return Lab{from.L + t * way.L, from.a + t * way.a, from.b + t * way.b}; };
  for (int i = 0; i < 60; ++i) {
    const double middle = (low + high) / 2.0;
    (ciede2000(from, at(middle)) < de00 ? low : high) = middle;
  }
  return at(low);
}

/// The part of simulated swatches for which the verdict is `stop`. Readings with noise 0.3 are invented.
double stops(double true_shift, int readings, std::uint64_t seed) {
  constexpr int kTrials = 4000;
  Dice dice(seed);
  int count = 0;
  for (int trial = 0; trial < kTrials; ++trial) {
    Swatch swatch;
    const Lab truth = dice.lab(60.0);
    add_readings(swatch, truth, "old", readings, dice, 0.3);
    add_readings(swatch, true_shift > 0.0 ? shifted(truth, true_shift, dice) : truth, "new", readings, dice,
                 0.3);
    const auto drift = drift_between(swatch, "old", "new", {});
    REQUIRE(drift);
    if (drift->verdict == DriftVerdict::stop) ++count;
  }
  return static_cast<double>(count) / kTrials;
}

Swatch two_batches(const Lab& from, const Lab& to, int readings) {
  Swatch swatch = swatch_with(1, "Wet Sand", Kind::stock, from);
  swatch.readings.clear();
  for (const bool old : {true, false}) {
    for (int i = 0; i < readings; ++i) {
      Reading reading;
      reading.lab = old ? from : to;
      reading.batch = old ? "H1" : "H2";
      swatch.readings.push_back(reading);
    }
  }
  return swatch;
}

}  // namespace

TEST_CASE("drift: with noise 0.3, false stops and misses of a true 2.5 stay under one in a hundred") {
  for (const int readings : {3, 5}) {
    CAPTURE(readings);
    CHECK(stops(0.0, readings, 11) < 0.01);
    CHECK(1.0 - stops(2.5, readings, 12) < 0.01);
  }
  CHECK(stops(0.0, 1, 13) < 0.01);
}

TEST_CASE("drift: one reading of each is never sure, and says how many would be") {
  const auto drift = drift_between(two_batches({70, 6, 20}, {70.2, 6, 20}, 1), "H1", "H2", {});
  REQUIRE(drift);
  CHECK(drift->verdict == DriftVerdict::same);
  CHECK_FALSE(drift->sure);
  CHECK(drift->readings >= 3);
}

TEST_CASE("drift: same, keep apart and stop at the limits, which can be set") {
  const auto verdict = [](double dL, const DriftLimits& limits) {
    const auto drift = drift_between(two_batches({50, 0, 0}, {50 + dL, 0, 0}, 5), "H1", "H2", limits);
    REQUIRE(drift);
    CHECK(std::fabs(drift->de00 - dL) < 0.05);  // at L* 50 a step in L* is nearly a dE00
    return drift->verdict;
  };
  CHECK(verdict(0.5, {}) == DriftVerdict::same);
  CHECK(verdict(1.4, {}) == DriftVerdict::keep_apart);
  CHECK(verdict(2.3, {}) == DriftVerdict::stop);
  CHECK(verdict(1.4, {0.5, 1.2}) == DriftVerdict::stop);
  CHECK(verdict(1.4, {2.0, 4.0}) == DriftVerdict::same);
  const auto clear = drift_between(two_batches({50, 0, 0}, {54, 0, 0}, 5), "H1", "H2", {});
  CHECK(clear->sure);
  CHECK(clear->readings == 0);
}

TEST_CASE("drift: batches in the order they were read, an ink's overprints left out") {
  Swatch swatch = two_batches({50, 0, 0}, {52, 0, 0}, 2);
  Reading elsewhere = swatch.readings.front();
  elsewhere.batch = "H9";
  elsewhere.surface = "Kraft";
  swatch.readings.push_back(elsewhere);
  const auto batches = batches_of(swatch);
  REQUIRE(batches.size() == 2);
  CHECK(batches[0].batch == "H1");
  CHECK(batches[1].readings == 2);
  CHECK(drift_between(swatch, "H1", "H9", {}).error().kind == ErrorKind::not_found);
  CHECK(drift_between(swatch, "H1", "H1", {}).error().kind == ErrorKind::impossible);
}
