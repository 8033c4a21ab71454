// SPDX-License-Identifier: MIT
#include <doctest/doctest.h>

#include <cmath>
#include <string>
#include <vector>

#include "base/files.h"
#include "base/text.h"
#include "colour/difference.h"
#include "places.h"
#include "swatch/day.h"
#include "swatch/import.h"
#include "swatch/import_facts.h"

using namespace kithue;

namespace {

const ImportOptions kStocks{Kind::stock, "", "", "", "", "", Dryness::unknown};

Result<Import> read(const std::string& text, const std::string& white = {}) {
  ImportOptions options = kStocks;
  options.white = white;
  return read_import(text, "readings.txt", options);
}

/// One paper of tests/data/colour/munsell_colord.csv: its 81 values and its Lab under D50, 2 degrees there.
struct Paper {
  std::vector<std::string> values;
  Lab lab;
};
std::vector<Paper> papers() {
  const auto text = read_file(std::string(tests::kTestData) + "/colour/munsell_colord.csv", 1 << 20);
  REQUIRE(text);
  std::vector<Paper> all;
  for (const std::string_view line : split(*text, '\n')) {
    if (line.empty() || line.starts_with('#')) continue;
    const auto fields = split(line, ',');
    Paper paper;
    for (std::size_t i = 1; i <= 81; ++i) paper.values.emplace_back(fields[i]);
    paper.lab = {*parse_number(fields[82]), *parse_number(fields[83]), *parse_number(fields[84])};
    all.push_back(std::move(paper));
  }
  return all;
}

/// All papers as one table, every `step`-th band from `from` on to `to`, names made by `name`.
std::string table(std::size_t step, std::size_t from, std::size_t to, const std::string& prefix, bool cgats) {
  std::string fields = cgats ? "SAMPLE_ID" : "name";
  const std::string gap = cgats ? " " : ",";
  for (std::size_t i = from; i <= to; i += step) fields += gap + prefix + std::to_string(380 + 5 * i);
  std::string rows;
  int id = 0;
  for (const Paper& paper : papers()) {
    rows += "P" + std::to_string(++id);
    for (std::size_t i = from; i <= to; i += step) rows += gap + paper.values[i];
    rows += "\n";
  }
  if (!cgats) return fields + "\n" + rows;
  return "CGATS.17\nBEGIN_DATA_FORMAT\n" + fields + "\nEND_DATA_FORMAT\nBEGIN_DATA\n" + rows + "END_DATA\n";
}

std::string one_row(const std::string& header, const std::string& fields, const std::string& row) {
  return "CGATS.17\n" + header + "BEGIN_DATA_FORMAT\n" + fields + "\nEND_DATA_FORMAT\nBEGIN_DATA\n" + row +
         "\nEND_DATA\n";
}

}  // namespace

TEST_CASE("import: spectra become Lab under D50, 2 degrees, as another library has it, and are kept") {
  for (const char* prefix : {"SPECTRAL_NM_", "SPECTRAL_NM", "SPEC_", "nm"}) {
    CAPTURE(prefix);
    const auto import = read(table(2, 0, 80, prefix, true));
    REQUIRE(import);
    CHECK(import->rejected.empty());
    const auto known = papers();
    REQUIRE(import->rows.size() == known.size());
    for (std::size_t i = 0; i < known.size(); ++i) {
      const Reading& reading = *import->rows[i].reading;
      CHECK(ciede2000(reading.lab, known[i].lab) < 0.15);  // libcolord, as in test_spectrum.cpp
      CHECK(reading.spectrum.size() == 41);
      CHECK(reading.start_nm == 380.0);
      CHECK(reading.step_nm == 10.0);
      CHECK(reading.white == "D50/2");
      CHECK(reading.adapted == "ASTM E308 from the spectrum");
    }
  }
}

TEST_CASE("import: a CSV of spectra whose columns are bare wavelengths, and one in percent") {
  const auto bare = read(table(1, 0, 80, "", false));
  REQUIRE(bare);
  CHECK(bare->rows.size() == papers().size());
  std::string percent =
      "name;nm400;nm420;nm440;nm460;nm480;nm500;nm520;nm540;nm560;nm580;nm600;nm620;nm640;nm660;nm680;"
      "nm700\nGrey";
  for (int i = 0; i < 16; ++i) percent += ";18,5";
  const auto read_percent = read(percent + "\n");
  REQUIRE(read_percent);
  CHECK(read_percent->rows.at(0).reading->spectrum.at(3) == 0.185);
  CHECK(read_percent->warnings.at(0) == "the spectra were taken as percent");
}

TEST_CASE("import: a short range goes on level and is said so, one that is too short is refused") {
  const auto usual = read(table(2, 4, 64, "SPEC_", true));
  REQUIRE(usual);
  CHECK(usual->rows.at(5).reading->adapted == "ASTM E308 from the spectrum, 400 to 700 nm and level beyond");
  for (std::size_t i = 0; i < usual->rows.size(); ++i)
    CHECK(ciede2000(usual->rows[i].reading->lab, papers()[i].lab) < 0.25);  // libcolord on the whole range
  REQUIRE(usual->warnings.size() == 1);
  CHECK(usual->warnings[0].find("taken level beyond its 400 to 700 nm") != std::string::npos);
  const auto shorter = read(table(2, 20, 64, "SPEC_", true));
  REQUIRE_FALSE(shorter);
  CHECK(shorter.error().what.starts_with("the spectra run from 480 to 700 nm only"));
}

TEST_CASE("import: wavelengths in any order, thirds of ten nanometres, gaps and steps too wide") {
  const auto turned =
      read(one_row("",
                   "SAMPLE_ID SPEC_700 SPEC_680 SPEC_660 SPEC_640 SPEC_620 SPEC_600 SPEC_580 SPEC_560 "
                   "SPEC_540 SPEC_520 SPEC_500 SPEC_480 SPEC_460 SPEC_440 SPEC_420 SPEC_400",
                   "a .7 .68 .66 .64 .62 .6 .58 .56 .54 .52 .5 .48 .46 .44 .42 .4"));
  REQUIRE(turned);
  CHECK(turned->rows.at(0).reading->spectrum.front() == 0.4);
  std::string fields = "SAMPLE_ID";
  std::string row = "a";
  for (int i = 0; i < 91; ++i) {
    fields += " SPEC_" + std::to_string(std::lround(400.0 + i * 10.0 / 3.0));
    row += " 0.5";
  }
  const auto thirds = read(one_row("", fields, row));
  REQUIRE(thirds);
  CHECK(std::fabs(thirds->rows.at(0).reading->step_nm - 10.0 / 3.0) < 1e-12);
  CHECK(std::fabs(thirds->rows.at(0).reading->lab.a) < 1e-9);
  const auto wide = read(one_row(
      "", "SAMPLE_ID SPEC_400 SPEC_450 SPEC_500 SPEC_550 SPEC_600 SPEC_650 SPEC_700", "a 1 1 1 1 1 1 1"));
  REQUIRE_FALSE(wide);
  CHECK(wide.error().what == "a step of 50.0 nm; 1 to 20 nm can be read");
}

TEST_CASE("import: XYZ of a published print condition gives the Lab printed beside it") {
  // Fogra, FOGRA39L (2006), patches 1 to 3: XYZ and Lab under D50, 2 degrees.
  const std::string header =
      "INSTRUMENTATION \"D50, 2 degree, geometry 45/0, no polarisation filter, white backing\"\n";
  const auto import = read(one_row(header, "SAMPLE_ID XYZ_X XYZ_Y XYZ_Z",
                                   "1 84.48 87.62 74.57\n2 77.89 77.75 68.26\n3 71.44 68.34 61.53"));
  REQUIRE(import);
  const Lab printed[] = {{95.00, 0.00, -2.00}, {90.67, 5.90, -3.86}, {86.18, 12.01, -5.21}};
  for (std::size_t i = 0; i < 3; ++i) {
    const Reading& reading = *import->rows.at(i).reading;
    CHECK(std::fabs(reading.lab.L - printed[i].L) < 0.01);
    CHECK(std::fabs(reading.lab.a - printed[i].a) < 0.03);  // XYZ has two decimals
    CHECK(std::fabs(reading.lab.b - printed[i].b) < 0.03);
    CHECK(reading.condition == "white backing, 45/0");
  }
  CHECK_FALSE(read(one_row("", "SAMPLE_ID XYZ_X XYZ_Y XYZ_Z", "1 84.48 87.62 74.57"))->rejected.empty());
  const auto unit = read("name,X,Y,Z\nwhite,0.9642,1,0.8249\n", "D50/2");
  REQUIRE(unit);
  CHECK(std::fabs(unit->rows.at(0).reading->lab.L - 100.0) < 1e-9);
}

TEST_CASE("import: Lab under another white beside a spectrum is integrated again, not adapted") {
  std::string fields = "SAMPLE_ID LAB_L LAB_A LAB_B";
  std::string row =
      "P "
      "41.3 0.1 -0.8";
  const Paper paper = papers().at(8);
  for (std::size_t i = 0; i < 81; i += 2) {
    fields += " SPEC_" + std::to_string(380 + 5 * i);
    row += " " + paper.values[i];
  }
  const auto import = read(one_row("ILLUMINANT \"D65\"\nOBSERVER \"10\"\n", fields, row));
  REQUIRE(import);
  const Reading& reading = *import->rows.at(0).reading;
  CHECK(ciede2000(reading.lab, paper.lab) < 0.15);
  CHECK(reading.white == "D65/10");
  CHECK(reading.adapted == "ASTM E308 from the spectrum");
}

TEST_CASE("import: readings of a display are refused") {
  const auto import =
      read(one_row("DEVICE_CLASS \"DISPLAY\"\n", "SAMPLE_ID XYZ_X XYZ_Y XYZ_Z", "1 95 100 108"));
  REQUIRE_FALSE(import);
  CHECK(import.error().what == "the readings in this file are of a display, not of paper or ink");
}

TEST_CASE("condition_in_text: measurement condition, backing and geometry as files write them") {
  CHECK(condition_in_text("D50, 2 degree, geometry 45/0, no polarisation filter, white backing") ==
        "white backing, 45/0");
  CHECK(condition_in_text("ISO 13655 M1; backing Black") == "M1, black backing");
  CHECK(condition_in_text("GAS-FILLED TUNGSTEN") == "M0");
  CHECK(condition_in_text("nothing of the kind") == "");
  CHECK(mode_of("M1, white backing") == "M1");
  CHECK(mode_of("m0") == "M0");
  CHECK(mode_of("M12").empty());
  CHECK(mode_of("white backing").empty());
}

TEST_CASE("day_from: days as instruments and spreadsheets write them, and none that could be two") {
  for (const char* text :
       {"2026-03-14", "2026/3/14 10:22", "14.3.2026", "14.03.2026 10:22:05", "14 March 2026",
        "March 14, 2026", "Sat Mar 14 10:22:05 2026", "3/14/2026", "2026-03-14T10:22:05Z"}) {
    CAPTURE(text);
    CHECK(day_from(text) == "2026-03-14");
  }
  for (const char* text : {"", "3/4/2026", "March 2026", "2026", "soon", "31.2.2026", "14.3.26"}) {
    CAPTURE(text);
    CHECK(day_from(text).empty());
  }
}

TEST_CASE("import: text with spaces and no quotes is taken where single tabs part the values") {
  const auto import = read(one_row("", "SAMPLE_NAME\tLAB_L\tLAB_A\tLAB_B", "wet sand\t78\t4\t18"), "D50/2");
  REQUIRE(import);
  CHECK(import->rejected.empty());
  CHECK(import->rows.at(0).swatch.name == "wet sand");
  CHECK(read(one_row("", "SAMPLE_NAME LAB_L LAB_A LAB_B", "wet sand 78 4 18"), "D50/2")->rejected.size() ==
        1);
}
