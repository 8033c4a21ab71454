// SPDX-License-Identifier: MIT
#include <doctest/doctest.h>

#include <sstream>

#include "base/text.h"
#include "cli/table.h"

using namespace kithue;

namespace {

struct Printed {
  std::ostringstream out;
  std::ostringstream err;
  SerialExecutor serial;
  Session session{out, err, serial};
};

Table names() {
  return {{"name", "dE00"},
          {{colour_cell({52, 43, 21}, "Buoy"), number_cell(3.14159, 2)},
           {colour_cell({60, 0, 0}, "砂浜"), number_cell(12, 2)}}};
}

}  // namespace

TEST_CASE("print_table: columns line up for wide characters") {
  Printed printed;
  print_table(printed.session, names());
  CHECK(printed.out.str() == "name   dE00\nBuoy   3.14\n砂浜  12.00\n");
}

TEST_CASE("print_table: plain mode is tab-separated and holds no escape") {
  Printed printed;
  printed.session.mode = Mode::plain;
  printed.session.paint = Paint::truecolour;
  print_table(printed.session, {{"name"}, {{cell("a\tb\x1b[31m")}}});
  CHECK(printed.out.str() == "name\na\\x09b\\x1b[31m\n");
}

TEST_CASE("colour_block: 24-bit, 256 colours, or nothing") {
  CHECK(colour_block(Paint::none, {50, 0, 0}).empty());
  CHECK(colour_block(Paint::truecolour, {100, 0, 0}) == "\x1b[48;2;255;255;255m  \x1b[0m");
  // L* 76.2 is sRGB 188; the grey ramp of 256-colour terminals is 8 + 10 n at code 232 + n.
  CHECK(colour_block(Paint::colours256, {76.2, 0, 0}) == "\x1b[48;5;250m  \x1b[0m");
  CHECK(colour_block(Paint::colours256, {0, 0, 0}) == "\x1b[48;5;16m  \x1b[0m");
}

TEST_CASE("print_table: a colour no screen can show is marked") {
  Printed printed;
  printed.session.paint = Paint::truecolour;
  print_table(printed.session, {{"name"}, {{colour_cell({50, 100, -100}, "Beacon")}}});
  CHECK(printed.out.str().find("\x1b[0m!Beacon") != std::string::npos);
}
