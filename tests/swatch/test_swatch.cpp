// SPDX-License-Identifier: MIT
#include <doctest/doctest.h>

#include <cmath>

#include "colour/difference.h"
#include "swatch/swatch.h"

namespace {

kithue::Swatch with_readings(const std::vector<kithue::Lab>& labs) {
  kithue::Swatch swatch;
  for (const kithue::Lab& lab : labs) {
    kithue::Reading reading;
    reading.lab = lab;
    swatch.readings.push_back(reading);
  }
  return swatch;
}

}  // namespace

TEST_CASE("colour_of: one reading is itself, two are their mean, more are the median of each coordinate") {
  CHECK(kithue::colour_of(with_readings({{50, 1, 2}})) == kithue::Lab{50, 1, 2});
  CHECK(kithue::colour_of(with_readings({{50, 1, 2}, {52, 3, -2}})) == kithue::Lab{51, 2, 0});
  CHECK(kithue::colour_of(with_readings({{50, 9, 2}, {90, 1, 3}, {51, 2, -40}})) == kithue::Lab{51, 2, 2});
  CHECK(kithue::colour_of(with_readings({{1, 0, 0}, {2, 0, 0}, {4, 0, 0}, {99, 0, 0}})) ==
        kithue::Lab{3, 0, 0});
}

TEST_CASE("colour_of: nothing without readings and nothing for a finish that cannot be measured") {
  CHECK_FALSE(kithue::colour_of(with_readings({})).has_value());
  kithue::Swatch foil = with_readings({{50, 1, 2}});
  foil.finish = kithue::Finish::unmeasurable;
  CHECK_FALSE(kithue::colour_of(foil).has_value());
  CHECK(kithue::spread_of(foil) == 0.0);
}

TEST_CASE("spread_of: mean difference of the readings from the swatch's colour") {
  const std::vector<kithue::Lab> labs{{50, 10, 10}, {51, 10, 10}, {53, 10, 10}};
  const double expected = (kithue::ciede2000(labs[0], labs[1]) + kithue::ciede2000(labs[2], labs[1])) / 3.0;
  CHECK(std::abs(kithue::spread_of(with_readings(labs)) - expected) < 1e-12);
  CHECK(kithue::spread_of(with_readings({{50, 1, 2}})) == 0.0);
}

TEST_CASE("uncertainty_of: the larger of the spread and the error that the readings state") {
  kithue::Swatch swatch = with_readings({{50, 10, 10}, {51, 10, 10}, {53, 10, 10}});
  const double spread = kithue::spread_of(swatch);
  CHECK(kithue::uncertainty_of(swatch) == spread);
  swatch.readings[1].error_de00 = 2.5;
  CHECK(kithue::uncertainty_of(swatch) == 2.5);
}

TEST_CASE("kinds and dryness: every word reads back") {
  for (const auto kind : {kithue::Kind::stock, kithue::Kind::ink, kithue::Kind::other})
    CHECK(kithue::kind_from(kithue::word_for(kind)) == kind);
  for (const auto dryness : {kithue::Dryness::dry, kithue::Dryness::wet, kithue::Dryness::unknown})
    CHECK(kithue::dryness_from(kithue::word_for(dryness)) == dryness);
  CHECK_FALSE(kithue::kind_from("paper").has_value());
}
