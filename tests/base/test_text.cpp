// SPDX-License-Identifier: MIT
#include <doctest/doctest.h>

#include "base/text.h"

using namespace kithue;

TEST_CASE("folded: case, accents, width and white space are forgiven") {
  CHECK(folded("Wet Sand") == folded("  wet   SAND "));
  CHECK(folded("Crème Brûlée") == folded("creme brulee"));
  CHECK(folded("Straße") == folded("STRASSE"));
  CHECK(folded("ＡＢＣ") == "abc");
  CHECK(folded("Tide") != folded("Tidal"));
}

TEST_CASE("edit_distance: a swap of neighbours is one edit") {
  CHECK(edit_distance("sand", "sadn") == 1);
  CHECK(edit_distance("", "abc") == 3);
  CHECK(edit_distance("été", "ete") == 2);
}

TEST_CASE("printable: escapes, bidirectional controls and bad bytes become visible") {
  CHECK(printable("a\x1b[31mb") == "a\\x1b[31mb");
  CHECK(printable("x\u202ey") == "x\\u202ey");
  CHECK(printable("a\nb\tc") == "a\\x0ab\\x09c");
  CHECK(printable("\xff") == "\\xff");
  CHECK(printable("Grève 砂浜") == "Grève 砂浜");
}

TEST_CASE("parse_number: a finite decimal with a point and nothing else") {
  CHECK(parse_number("1.5") == 1.5);
  CHECK(parse_number("+2") == 2.0);
  CHECK(parse_number("-1e-3") == -0.001);
  for (const char* wrong : {"", "nan", "inf", "1,5", "1.5x", " 1", "+-1", "1e999", "0x10"}) {
    CAPTURE(wrong);
    CHECK_FALSE(parse_number(wrong).has_value());
  }
}

TEST_CASE("fixed_number: never minus zero") {
  CHECK(fixed_number(-0.001, 2) == "0.00");
  CHECK(fixed_number(-0.006, 2) == "-0.01");
  CHECK(exact_number(-0.0) == "0");
  CHECK(exact_number(0.1) == "0.1");
}

TEST_CASE("display_width and cut_to_width: wide characters take two columns, marks none") {
  CHECK(display_width("砂浜") == 4);
  CHECK(display_width("e\u0301") == 1);
  CHECK(cut_to_width("Lighthouse", 6) == "Light…");
  CHECK(cut_to_width("砂浜の色", 5) == "砂浜…");
}

TEST_CASE("near_spellings: nearest first, at most three, none for a far word") {
  const std::vector<std::string> known{"Wet Sand", "Sea Glass", "Pitch Black"};
  CHECK(near_spellings("wet snad", known) == std::vector<std::string>{"Wet Sand"});
  CHECK(near_spellings("violet", known).empty());
}
