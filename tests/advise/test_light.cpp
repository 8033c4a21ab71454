// SPDX-License-Identifier: MIT
#include <doctest/doctest.h>

#include <cmath>
#include <map>
#include <string>
#include <vector>

#include "advise/light.h"
#include "advise/swatches.h"
#include "base/files.h"
#include "base/text.h"
#include "places.h"
#include "swatch/condition.h"

using namespace kithue;

namespace {

/// Rows of a reference table, the comment lines left out.
std::vector<std::vector<std::string>> table(const std::string& name) {
  const auto text = read_file(std::string(tests::kTestData) + "/colour/" + name, 1 << 20);
  REQUIRE(text);
  std::vector<std::vector<std::string>> rows;
  for (const std::string_view line : split(*text, '\n')) {
    if (trimmed(line).empty() || line.starts_with('#')) continue;
    std::vector<std::string> row;
    for (const std::string_view field : split(trimmed(line), ',')) row.emplace_back(field);
    rows.push_back(std::move(row));
  }
  return rows;
}

/// The synthetic pairs of metamer_pairs_spectra.csv by column name, 380 to 780 nm by 5 nm.
std::map<std::string, Power> spectra() {
  const auto rows = table("metamer_pairs_spectra.csv");
  std::map<std::string, Power> all;
  for (std::size_t c = 1; c < rows[0].size(); ++c) {
    for (std::size_t i = 0; i < kPowerBands; ++i) all[rows[0][c]][i] = *parse_number(rows[i + 1][c]);
  }
  return all;
}

std::string column_for(std::string pair) {
  for (char& c : pair) {
    if (c == ' ' || c == '-') c = '_';
  }
  return pair;
}

}  // namespace

// metamerism_index_examples.csv: worked from the definition in CIE 015:2018 by another program, 10 degrees,
// four decimals; the spectra have six.
TEST_CASE("compare_under_lights: Lab, differences and metamerism indices of worked examples") {
  const auto all = spectra();
  int compared = 0;
  for (const auto& row : table("metamerism_index_examples.csv")) {
    const Illuminant* light = find_illuminant(row[1]);
    if (light == nullptr) continue;  // the header
    REQUIRE(all.count(column_for(row[0]) + "_1") == 1);
    const Power& x = all.at(column_for(row[0]) + "_1");
    const Power& y = all.at(column_for(row[0]) + "_2");
    CAPTURE(row[0]);
    CAPTURE(row[1]);
    const Lab lab = lab_under(x, *light, Observer::ten_degrees);
    CHECK(std::fabs(lab.L - *parse_number(row[3])) < 0.00015);
    CHECK(std::fabs(lab.a - *parse_number(row[4])) < 0.0006);
    CHECK(std::fabs(lab.b - *parse_number(row[5])) < 0.0006);
    const LightReport report = compare_under_lights(x, y, *find_illuminant("D65"), Observer::ten_degrees);
    for (const UnderLight& one : report.lights) {
      if (one.light != light) continue;
      CHECK(std::fabs(one.de76 - *parse_number(row[9])) < 0.001);
      CHECK(std::fabs(one.de00 - *parse_number(row[10])) < 0.001);
      CHECK(std::fabs(one.index_de76 - *parse_number(row[11])) < 0.001);
      CHECK(std::fabs(one.index_de00 - *parse_number(row[12])) < 0.001);
      ++compared;
    }
  }
  CHECK(compared >= 50);
}

TEST_CASE("compare_under_lights: a pair from one spectrum holds, a metamer parts, two colours differ") {
  const auto all = spectra();
  const Illuminant& d65 = *find_illuminant("D65");
  const auto same = compare_under_lights(all.at("teal_1"), all.at("teal_1"), d65, Observer::ten_degrees);
  CHECK(same.verdict == LightVerdict::holds);
  CHECK(same.words.starts_with("holds under lamp light"));
  const auto metamer =
      compare_under_lights(all.at("mid_grey_1"), all.at("mid_grey_2"), d65, Observer::ten_degrees);
  CHECK(metamer.verdict == LightVerdict::parts);
  CHECK(metamer.lights[metamer.worst].light->name == "FL11");
  CHECK(metamer.words == "parts under lamp light: 9.8 dE00 under the three-band tube (FL11)");
  CHECK(compare_under_lights(all.at("teal_1"), all.at("navy_1"), d65, Observer::ten_degrees).verdict ==
        LightVerdict::differs);
}

TEST_CASE("mean_spectrum: the mean of the spectral readings, nothing without one") {
  Swatch swatch = swatch_with(1, "Wet Sand", Kind::stock, {70, 6, 20});
  CHECK_FALSE(mean_spectrum(swatch));
  for (const double level : {0.2, 0.4}) {
    Reading reading = swatch.readings.front();
    reading.spectrum.assign(31, level);
    reading.start_nm = 400;
    reading.step_nm = 10;
    swatch.readings.push_back(reading);
  }
  const auto mean = mean_spectrum(swatch);
  REQUIRE(mean);
  for (const double value : *mean) CHECK(std::fabs(value - 0.3) < 1e-12);
}

TEST_CASE("comparison_cautions: M0 against M1 and wet against dry, and nothing else") {
  Swatch a = swatch_with(1, "Wet Sand", Kind::stock, {70, 6, 20});
  Swatch b = swatch_with(2, "Sailcloth", Kind::stock, {90, 0, 4});
  CHECK(comparison_cautions(a, b).empty());
  a.readings[0].condition = "M0, white backing";
  CHECK(comparison_cautions(a, b).empty());
  b.readings[0].condition = "M1";
  REQUIRE(comparison_cautions(a, b).size() == 1);
  CHECK(comparison_cautions(a, b)[0].starts_with("Wet Sand was read under M0, Sailcloth under M1"));
  b.readings[0].condition = "M0";
  b.readings[0].dryness = Dryness::wet;
  REQUIRE(comparison_cautions(a, b).size() == 1);
  CHECK(comparison_cautions(a, b)[0].starts_with("Sailcloth was read wet, Wet Sand not"));
  CHECK(comparison_cautions(a, a).empty());
  a.readings.push_back(a.readings[0]);
  a.readings[1].condition = "M2";
  CHECK(comparison_cautions(a, a).size() == 1);
}
