// SPDX-License-Identifier: MIT
#include <doctest/doctest.h>

#include <cmath>
#include <string>

#include "advise/dice.h"
#include "kit/length.h"

using namespace kithue;

// 1 in = 25.4 mm exactly: international yard and pound agreement, 1959; 1 cm = 10 mm: SI.
TEST_CASE("length_from: mm, cm and inches with fractions, to the nanometre") {
  struct Row {
    const char* text;
    std::int64_t nm;
  };
  constexpr Row kRows[] = {{"140 mm", 140'000'000},     {"14cm", 140'000'000},     {"5.5 in", 139'700'000},
                           {"5 1/2 in", 139'700'000},   {"5-1/2in", 139'700'000},  {"5½ in", 139'700'000},
                           {"1/8 in", 3'175'000},       {"1/64 in", 396'875},      {"⅜ inch", 9'525'000},
                           {"5 1/2\"", 139'700'000},    {"0.001 mm", 1'000},       {"12 inches", 304'800'000},
                           {" 8 1/2 in ", 215'900'000}, {"210.25 mm", 210'250'000}};
  for (const Row& row : kRows) {
    CAPTURE(row.text);
    const auto length = length_from(row.text);
    REQUIRE(length.has_value());
    CHECK(length->nm == row.nm);
  }
}

TEST_CASE("length_from: what is no length, or has no unit, is refused with what to write") {
  for (const char* text :
       {"", "5", "5.5", "in", "5 1/2", "5 ft", "-5 mm", "0 mm", "5,5 in", "1e3 mm", "5 1/0 in", "nan mm",
        "4 m", "3001 mm", "5 1.5 in", "1/2/3 in", "0.0001 mm", "5 in 3"}) {
    CAPTURE(text);
    const auto length = length_from(text);
    REQUIRE_FALSE(length.has_value());
    CHECK(length.error().kind == ErrorKind::bad_input);
    CHECK_FALSE(length.error().advice.empty());
  }
}

TEST_CASE("size_from: one unit goes for both sides, or each has its own") {
  CHECK(*size_from("4 x 5 1/4 in") == Size{{101'600'000}, {133'350'000}});
  CHECK(*size_from("105 × 148 mm") == Size{{105'000'000}, {148'000'000}});
  CHECK(*size_from("10 cm x 4in") == Size{{100'000'000}, {101'600'000}});
  for (const char* text : {"4 in", "4 x in", "4 x 5", "4 in x 5", "x 5 in", "4 x 5 x 6 in"}) {
    CAPTURE(text);
    CHECK_FALSE(size_from(text).has_value());
  }
}

TEST_CASE("length_text: 300 seeded lengths in each unit read back to 0.001 mm; fractions are exact") {
  Dice dice(7);
  for (int i = 0; i < 300; ++i) {
    const Length inches{dice.whole(1, 64 * 100) * (kNanometresPerInch / 64)};
    CHECK(length_from(length_text(inches, Unit::inch))->nm == inches.nm);
    const Length any{static_cast<std::int64_t>(dice.whole(1, 3'000'000)) * 1000};
    for (const Unit unit : {Unit::mm, Unit::cm, Unit::inch}) {
      CAPTURE(length_text(any, unit));
      CHECK(std::abs(length_from(length_text(any, unit))->nm - any.nm) <= (unit == Unit::inch ? 1'270 : 500));
    }
  }
  CHECK(length_text({139'700'000}, Unit::inch) == "5 1/2 in");
  CHECK(size_text({{215'900'000}, {279'400'000}}, Unit::inch) == "8 1/2 x 11 in");
}
