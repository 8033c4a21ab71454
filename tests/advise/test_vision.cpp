// SPDX-License-Identifier: MIT
#include <doctest/doctest.h>

#include <cmath>

#include "advise/dice.h"
#include "advise/legibility.h"
#include "advise/vision.h"
#include "colour/css.h"
#include "colour/difference.h"
#include "colour/srgb.h"

using namespace kithue;

// Machado, Oliveira & Fernandes 2009, severity 1.0: a column of the matrix is what a pure primary turns into.
// All 27 values as in colorspacious 1.1.2 (Debian python3-colorspacious, MIT), which took them from the
// authors' page of the paper.
TEST_CASE("seen_by: the primaries turn into the columns of the published matrices") {
  struct Row {
    Vision vision;
    LinearRgb primary;
    LinearRgb seen;
  };
  constexpr Row kRows[] = {{Vision::protan, {1, 0, 0}, {0.152286, 0.114503, -0.003882}},
                           {Vision::protan, {0, 1, 0}, {1.052583, 0.786281, -0.048116}},
                           {Vision::protan, {0, 0, 1}, {-0.204868, 0.099216, 1.051998}},
                           {Vision::deutan, {1, 0, 0}, {0.367322, 0.280085, -0.011820}},
                           {Vision::deutan, {0, 1, 0}, {0.860646, 0.672501, 0.042940}},
                           {Vision::deutan, {0, 0, 1}, {-0.227968, 0.047413, 0.968881}},
                           {Vision::tritan, {1, 0, 0}, {1.255528, -0.078411, 0.004733}},
                           {Vision::tritan, {0, 1, 0}, {-0.076749, 0.930809, 0.691367}},
                           {Vision::tritan, {0, 0, 1}, {-0.178779, 0.147602, 0.303900}}};
  for (const Row& row : kRows) {
    const LinearRgb seen = rgb_from_lab(seen_by(lab_from_rgb(row.primary), row.vision));
    CHECK(std::fabs(seen.r - row.seen.r) < 1e-9);
    CHECK(std::fabs(seen.g - row.seen.g) < 1e-9);
    CHECK(std::fabs(seen.b - row.seen.b) < 1e-9);
  }
}

TEST_CASE("seen_by: greys stay grey for all three") {
  for (double L = 5; L <= 100; L += 5) {
    for (const Vision vision : kVisions) CHECK(ciede2000(seen_by({L, 0, 0}, vision), {L, 0, 0}) < 0.01);
  }
}

TEST_CASE("mergers: a red and a green of one lightness merge for some; a dark and a light never do") {
  const std::vector<NamedColour> colours{{"Buoy", *lab_from_css("#c05040"), 0.0, nullptr},
                                         {"Kelp", *lab_from_css("#7d7a35"), 0.0, nullptr},
                                         {"Night", {15, 0, -5}, 0.0, nullptr},
                                         {"Sail", {95, 0, 4}, 0.0, nullptr}};
  const auto found = mergers(colours);
  for (const Merger& one : found) {
    CHECK((one.a == 0 && one.b == 1));
    CHECK(one.de00 > 10.0);
    CHECK(one.de00_simulated < 5.0);
  }
}

TEST_CASE("mergers: exactly the pairs over 10 for most and under 5 for some, by brute force") {
  Dice dice(61);
  std::vector<NamedColour> colours;
  colours.reserve(120);
  for (int i = 0; i < 120; ++i) colours.push_back({std::to_string(i), dice.lab(45), 0.0, nullptr});
  std::size_t expected = 0;
  for (std::size_t i = 0; i < colours.size(); ++i) {
    for (std::size_t k = i + 1; k < colours.size(); ++k) {
      if (ciede2000(colours[i].lab, colours[k].lab) <= 10.0) continue;
      for (const Vision vision : kVisions) {
        if (ciede2000(seen_by(colours[i].lab, vision), seen_by(colours[k].lab, vision)) < 5.0) ++expected;
      }
    }
  }
  const auto found = mergers(colours);
  CHECK(found.size() == expected);
  CHECK(expected > 20);
  for (std::size_t i = 1; i < found.size(); ++i)
    CHECK(found[i - 1].de00_simulated <= found[i].de00_simulated);
}

TEST_CASE("contrasts_seen: the usual contrast of what each sees") {
  const Lab ink = *lab_from_css("#b03020");
  const Lab stock = *lab_from_css("#f4efe0");
  const auto seen = contrasts_seen(ink, stock);
  for (std::size_t v = 0; v < 3; ++v) {
    CHECK(seen[v] == contrast_ratio(seen_by(ink, kVisions[v]), seen_by(stock, kVisions[v])));
  }
  CHECK(seen[0] > contrast_ratio(ink, stock));  // to a protan eye red ink is darker
}
