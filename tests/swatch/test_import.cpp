// SPDX-License-Identifier: MIT
#include <doctest/doctest.h>

#include <cmath>
#include <set>

#include "base/files.h"
#include "places.h"
#include "swatch/export.h"
#include "swatch/import.h"
#include "swatch/random_stash.h"
#include "swatch/stash_file.h"

namespace {

using kithue::ErrorKind;
using kithue::Import;
using kithue::ImportOptions;
using kithue::Kind;
using kithue::Stash;
using kithue::testing::RandomStash;

const ImportOptions kStocksD50{Kind::stock, "", "D50/2", "", ""};

Import good(const std::string& bytes, const ImportOptions& options = kStocksD50) {
  const auto import = kithue::read_import(bytes, "readings.csv", options);
  if (!import) {
    FAIL(describe(import.error()));
  }
  return *import;
}

kithue::Error refused(const std::string& bytes, const ImportOptions& options = kStocksD50) {
  const auto import = kithue::read_import(bytes, "readings.csv", options);
  REQUIRE_FALSE(import.has_value());
  return import.error();
}

std::string data(const std::string& name) {
  const auto bytes = kithue::read_file(std::string(kithue::tests::kTestData) + "/cgats/" + name, 1 << 24);
  if (!bytes) {
    FAIL(describe(bytes.error()));
  }
  return *bytes;
}

std::string utf16(const std::string& ascii, bool little) {
  std::string text = little ? "\xff\xfe" : "\xfe\xff";
  for (const char c : ascii) {
    if (!little) text += '\0';
    text += c;
    if (little) text += '\0';
  }
  return text;
}

}  // namespace

TEST_CASE("export and import: CSV brings back every swatch and reading of 10000 random stashes") {
  RandomStash random(3);
  std::size_t swatches = 0;
  for (int i = 0; i < 10000; ++i) {
    const Stash stash = random.make(5);
    const std::string text = kithue::csv_text(stash);
    if (stash.swatches.empty()) continue;
    const Import import = good(text, {});
    REQUIRE(import.rejected.empty());
    Stash back;
    merge_import(back, import);
    REQUIRE(back.swatches == stash.swatches);
    swatches += back.swatches.size();
  }
  CHECK(swatches > 20000);
}

TEST_CASE("export and import: CGATS brings back the stash with its next id") {
  RandomStash random(4);
  for (int i = 0; i < 2000; ++i) {
    const Stash stash = random.make(5);
    Stash back;
    merge_import(back, good(stash_text(stash), {}));
    REQUIRE(back == stash);
  }
}

TEST_CASE("import: the same file twice adds nothing, whatever the format") {
  RandomStash random(5);
  for (int i = 0; i < 1000; ++i) {
    const Stash stash = random.make(6);
    if (stash.swatches.empty()) continue;
    for (const std::string& text : {kithue::csv_text(stash), stash_text(stash)}) {
      Stash twice = stash;
      const Import import = good(text, {});
      const auto count = merge_import(twice, import);
      REQUIRE(twice == stash);
      REQUIRE(count.already_there == import.rows.size());
    }
  }
}

TEST_CASE("import: two equal readings in one file are two readings, and stay two") {
  const Import import = good("name,L,a,b\nWet Sand,78,4,18\nWet Sand,78,4,18\n");
  Stash stash;
  CHECK(merge_import(stash, import).new_readings == 2);
  CHECK(merge_import(stash, import).new_readings == 0);
  CHECK(stash.swatches.front().readings.size() == 2);
}

TEST_CASE("import: separator, decimal comma, header spelling and order are found") {
  for (const char* text : {
           "name,L,a,b\nWet Sand,78.5,-4,18\n",
           "\xef\xbb\xbfname;L*;a*;b*\r\nWet Sand;78,5;-4,0;18\r\n",
           "b*\ta*\tL*\tSample Name\nn/a\t\t\t\n18\t-4\t78,5\tWet Sand\n",
           "\"Colour\",\"CIE L\",\"CIE a\",\"CIE b\"\n\"Wet Sand\",\"78.5\",\"-4\",\"18\"\n",
           "instrument report\n\nLAB_B;LAB_A;LAB_L;NAME\r18;\xe2\x88\x92"
           "4;78.5;Wet Sand\r",
       }) {
    CAPTURE(text);
    const Import import = good(text);
    REQUIRE(import.rows.size() == 1);
    CHECK(import.rows[0].swatch.name == "Wet Sand");
    CHECK(import.rows[0].reading->lab == kithue::Lab{78.5, -4, 18});
  }
}

TEST_CASE("import: UTF-16 of either order reads like UTF-8") {
  const std::string plain = "name\tL\ta\tb\r\nWet Sand\t78\t4\t18\r\n";
  for (const bool little : {true, false}) CHECK(good(utf16(plain, little)).rows[0].swatch.name == "Wet Sand");
  CHECK(refused("\xff\xfen").kind == ErrorKind::bad_input);
}

TEST_CASE("import: every row is either taken or rejected with line, column, value and reason") {
  const Import import = good(
      "name,L,a,b\n"
      "Good,50,1,2\n"
      "Bad L,fifty,1,2\n"
      ",50,1,2\n"
      "Dark,-3,1,2\n"
      "Codes,178,120,120\n"
      "Far,50,1,900\n"
      "Nan,nan,1,2\n"
      "Inf,50,inf,2\n"
      "Huge,1e999,1,2\n"
      "Long,50,1,2,surplus\n"
      "Short,50\n"
      "\"two\nlines\",50,1,2\n"
      "Last,51,1,2\n");
  CHECK(import.rows.size() == 2);
  REQUIRE(import.rejected.size() == 11);
  CHECK(import.rejected[0].line == 3);
  CHECK(import.rejected[0].column == "L");
  CHECK(import.rejected[0].value == "fifty");
  CHECK(import.rejected[0].reason == "not a number");
  CHECK(import.rejected[1].reason.starts_with("the name is empty"));
  CHECK(import.rejected[3].reason.find("8-bit") != std::string::npos);
  CHECK(import.rejected[8].reason == "more values than columns");
  CHECK(import.rejected[10].line == 13);
  CHECK(import.rows[1].line == 15);
}

TEST_CASE("import: a white is never guessed") {
  const std::string bare = "name,L,a,b\nWet Sand,78,4,18\n";
  const Import none = good(bare, {Kind::stock, "", "", "", ""});
  CHECK(none.rows.empty());
  CHECK(none.rejected.at(0).reason.find("--white") != std::string::npos);
  CHECK(good(bare, {Kind::stock, "", "D99/2", "", ""}).rows.empty());
  const Import column =
      good("name,white,L,a,b\nA,D65/10,78,4,18\nB,D50/2,78,4,18\n", {Kind::stock, "", "", "", ""});
  REQUIRE(column.rows.size() == 2);
  CHECK(column.rows[0].reading->adapted == "Bradford from D65/10");
  CHECK_FALSE(column.rows[0].reading->lab == kithue::Lab{78, 4, 18});
  CHECK(column.rows[1].reading->lab == kithue::Lab{78, 4, 18});
  CHECK(column.warnings.size() == 1);
  const Import two =
      good("name,illuminant,observer,L,a,b\nA,D65,10°,78,4,18\n", {Kind::stock, "", "", "", ""});
  CHECK(two.rows.at(0).reading->white == "D65/10");
}

TEST_CASE("import: a kind is never guessed, and readings of one name become one swatch") {
  CHECK(good("name,L,a,b\nA,1,2,3\n", {std::nullopt, "", "D50/2", "", ""}).rows.empty());
  Stash stash;
  const auto count = merge_import(
      stash,
      good("name,kind,method,L,a,b\nSea,ink,pad,50,1,2\nSea,ink,marker,51,1,2\nSea,ink,pad,50.5,1,2\n"));
  CHECK(count.new_swatches == 2);
  CHECK(count.new_readings == 3);
  CHECK(stash.swatches.at(0).readings.size() == 2);
}

TEST_CASE("import: columns it does not know are kept as a note") {
  const Import import = good("name,L,a,b,gloss,operator\nA,50,1,2,12.5,me\n");
  CHECK(import.rows.at(0).reading->note == "gloss=12.5; operator=me");
}

TEST_CASE("import: files that cannot be understood are refused with what was found") {
  CHECK(refused("").what == "the file is empty");
  CHECK(refused("hello\nworld\n").what.starts_with("no columns for L, a and b"));
  CHECK(refused("name,L,L*,a,b\nA,1,1,1,1\n").what.starts_with("two columns could be the same number"));
  CHECK(refused("L,a,b\n1,2,3\n").what == "no column for the name");
  CHECK(refused("name,L,a,b\n\"A,1,2,3\n").what == "a quote is opened and never closed");
  CHECK(refused(std::string("name,L,a,b\nA\0,1,2,3\n", 21)).where == "readings.csv:2");
}

TEST_CASE("import: well-formed CGATS reads the same with LF, CRLF, BOM and comments") {
  for (const char* name : {"syn_ok_lf.txt", "syn_ok_crlf.txt", "syn_ok_utf8_bom.txt", "syn_comment_lines.txt",
                           "syn_duplicate_ids.txt"}) {
    CAPTURE(name);
    const Import import = good(data(name));
    CHECK(import.rejected.empty());
    REQUIRE(import.rows.size() == 4);
    CHECK(import.rows[0].swatch.name == "white paper");
    CHECK(import.rows[1].reading->lab == kithue::Lab{47, 68, 48});
  }
  CHECK(good(data("syn_utf8_name.txt")).rows.at(1).swatch.name == "pêche 桜");
  CHECK(good(data("syn_two_tables.txt")).rows.size() == 8);
  CHECK(good(data("syn_csv_semicolon.csv")).rows.at(1).reading->lab == kithue::Lab{47.1, 68, 48});
  CHECK(good(data("syn_csv_path_name.csv")).rows.size() == 2);
}

TEST_CASE("import: faults in CGATS rows and counts are rejections that name the line") {
  struct Case {
    const char* file;
    std::size_t rows;
    std::size_t line;
    const char* reason;
  };
  for (const Case& one : {
           Case{"syn_comma_decimal.txt", 3, 10, "a decimal comma where the file has points elsewhere"},
           Case{"syn_fields_mismatch.txt", 4, 4, "NUMBER_OF_FIELDS says 7 but 5 are named"},
           Case{"syn_lab_out_of_range.txt", 3, 10, "L is 195, outside 0 to 100"},
           Case{"syn_nan_inf.txt", 3, 11, "not a number"},
           Case{"syn_no_end_data.txt", 4, 13, "the file ends without END_DATA"},
           Case{"syn_row_short.txt", 3, 11, "4 values in a row of 5 fields"},
           Case{"syn_sets_huge.txt", 4, 8, "NUMBER_OF_SETS says 4294967295 but there are 4 rows"},
           Case{"syn_sets_too_many.txt", 4, 8, "NUMBER_OF_SETS says 40 but there are 4 rows"},
       }) {
    CAPTURE(one.file);
    const Import import = good(data(one.file));
    CHECK(import.rows.size() == one.rows);
    REQUIRE(import.rejected.size() == 1);
    CHECK(import.rejected[0].line == one.line);
    CHECK(import.rejected[0].reason.starts_with(one.reason));
  }
}

TEST_CASE("import: CGATS without rows, fields, numbers or closing quotes is refused") {
  CHECK(refused(data("syn_no_format.txt")).what == "the rows begin before any field names");
  CHECK(refused(data("syn_nul_bytes.txt")).what.starts_with("a NUL byte"));
  CHECK(refused(data("syn_unbalanced_quote.txt")).where == "readings.csv:11");
  CHECK(refused(data("syn_truncated.txt")).what.starts_with("a quote is opened"));
  CHECK(refused(data("syn_lch_only.txt")).what.starts_with("no LAB_L, LAB_A and LAB_B"));
  CHECK(refused(data("syn_missing_wavelength.txt")).what == "the spectrum has no column for 420 nm");
}

TEST_CASE("import: CGATS that went through a spreadsheet is put right, and said so") {
  const Import lines = good(
      "\"CGATS.17\"\n\"ORIGINATOR \"\"synthetic\"\"\"\nBEGIN_DATA_FORMAT\nSAMPLE_ID SAMPLE_NAME LAB_L LAB_A "
      "LAB_B\n"
      "END_DATA_FORMAT\nNUMBER_OF_SETS 1\nBEGIN_DATA\n\"1 \"\"sea green\"\" 50 -20 5\"\nEND_DATA\n");
  CHECK(lines.rows.at(0).swatch.name == "sea green");
  CHECK(lines.warnings.at(0) == "quotes doubled by a spreadsheet, from line 2 on, were put right");
  const Import cells = good(
      "CGATS.17\nBEGIN_DATA_FORMAT\nSAMPLE_ID\tSAMPLE_NAME\tLAB_L\tLAB_A\tLAB_B\nEND_DATA_FORMAT\nBEGIN_"
      "DATA\n"
      "1\t\"\"\"sea green\"\"\"\t50\t-20\t5\nEND_DATA\n");
  CHECK(cells.rows.at(0).swatch.name == "sea green");
}

TEST_CASE("import: the white of a CGATS file is read from its keywords") {
  const std::string rest =
      "BEGIN_DATA_FORMAT\nSAMPLE_ID LAB_L LAB_A LAB_B\nEND_DATA_FORMAT\nBEGIN_DATA\n1 50 10 5\nEND_DATA\n";
  const auto white_of = [&](const std::string& header) {
    const Import import = good("CGATS.17\n" + header + rest, {Kind::stock, "", "", "", ""});
    return import.rows.empty() ? std::string("none") : import.rows[0].reading->white;
  };
  CHECK(white_of("WEIGHTING_FUNCTION \"ILLUMINANT, D65\"\nWEIGHTING_FUNCTION \"OBSERVER, 10 degree\"\n") ==
        "D65/10");
  CHECK(white_of("ILLUMINANT \"D50\"\nOBSERVER \"2\"\n") == "D50/2");
  CHECK(white_of("INSTRUMENTATION \"D50, 2 degree, geometry 45/0\"\n") == "D50/2");
  CHECK(white_of("ILLUMINATION_NAME \"D65\"\nOBSERVER_ANGLE \"10\"\n") == "D65/10");
  CHECK(white_of("ILLUMINANT \"D50\"\n") == "none");
  CHECK(white_of("") == "none");
}

TEST_CASE("export: text that a spreadsheet would obey is guarded once, numbers never are") {
  for (const std::string text :
       {"=1+1", "+1", "-1", "@x", "\tx", "\rx", "＝1", "＋1", "－1", "＠x", "'quoted", "''"}) {
    CAPTURE(text);
    CHECK(kithue::with_guard(text) == "'" + text);
    CHECK(kithue::without_guard(kithue::with_guard(text)) == text);
  }
  CHECK(kithue::with_guard("Wet Sand") == "Wet Sand");
  CHECK(kithue::without_guard("'tis") == "'tis");
  Stash stash;
  kithue::Swatch swatch;
  swatch.name = "=cmd";
  kithue::Reading reading;
  reading.lab = {50, -4.5, -1};
  swatch.readings.push_back(reading);
  append_swatch(stash, swatch);
  const std::string csv = kithue::csv_text(stash);
  CHECK(csv.find("\"'=cmd\"") != std::string::npos);
  CHECK(csv.find(",50,-4.5,-1,") != std::string::npos);
}

TEST_CASE("import: the white may stand in the names of the columns") {
  for (const std::string head : {"Name,L*(10/D65),a*(10/D65),b*(10/D65)",
                                 "Name,L (D65/10),a (D65/10),b (D65/10)", "Name,L* [D65 10deg],a*,b*"}) {
    CAPTURE(head);
    ImportOptions options;
    options.kind = Kind::stock;
    const auto import = read_import(head + "\nSea,50,1,2\n", "x.csv", options);
    REQUIRE(import);
    REQUIRE(import->rows.size() == 1);
    CHECK(import->rows[0].reading->white == "D65/10");
  }
  ImportOptions options;
  options.kind = Kind::stock;
  CHECK_FALSE(read_import("Name,L*(10/D65),a*(2/A),b*(10/D65)\nSea,50,1,2\n", "x.csv", options));
}

TEST_CASE("import: rows of separators only are no rows") {
  ImportOptions options;
  options.kind = Kind::stock;
  const auto import = read_import("name,white,L,a,b\nSea,D50/2,50,1,2\n,,,,\n,,,,\n", "x.csv", options);
  REQUIRE(import);
  CHECK(import->row_count() == 1);
  CHECK(import->rejected.empty());
}

TEST_CASE("import: UTF-16 is read with and without its mark") {
  const std::string plain = "name;white;L;a;b\nSea;D50/2;50,5;1;2\n";
  ImportOptions options;
  options.kind = Kind::stock;
  for (const bool little : {true, false}) {
    for (const bool marked : {true, false}) {
      std::string bytes = marked ? (little ? "\xff\xfe" : "\xfe\xff") : "";
      for (const char c : plain) {
        if (!little) bytes += '\0';
        bytes += c;
        if (little) bytes += '\0';
      }
      const auto import = read_import(bytes, "x.csv", options);
      REQUIRE(import);
      REQUIRE(import->rows.size() == 1);
      CHECK(import->rows[0].reading->lab.L == 50.5);
    }
  }
}

TEST_CASE("import: a white without its observer is asked for") {
  ImportOptions options;
  options.kind = Kind::stock;
  const auto import = read_import("name,white,L,a,b\nSea,d50,50,1,2\n", "x.csv", options);
  REQUIRE(import);
  REQUIRE(import->rejected.size() == 1);
  CHECK(import->rejected[0].reason.find("D50/2 or D50/10") != std::string::npos);
}
