// SPDX-License-Identifier: MIT
#include <doctest/doctest.h>

#include <cmath>
#include <vector>

#include "advise/ou_luo.h"
#include "base/files.h"
#include "base/text.h"
#include "places.h"

using namespace kithue;

namespace {

/// The numbers of one worked pair, after its quoted name.
std::vector<double> numbers_of(std::string_view line) {
  std::vector<double> out;
  for (const std::string_view field : split(line.substr(line.rfind('"') + 2), ',')) {
    const auto value = parse_number(field);
    REQUIRE(value.has_value());
    out.push_back(*value);
  }
  return out;
}

}  // namespace

// The equations: Ou & Luo 2006, doi:10.1002/col.20208. The terms of 26 made-up pairs come from an independent
// program and are printed to six decimals.
TEST_CASE("ou_luo_terms: every worked pair, term by term") {
  const auto text = read_file(std::string(tests::kTestData) + "/advise/harmony_ou_luo_2006.csv", 1 << 20);
  REQUIRE(text);
  int pairs = 0;
  for (const std::string_view line : split(*text, '\n')) {
    if (!line.starts_with('"')) continue;
    CAPTURE(std::string(line));
    const auto v = numbers_of(line);
    REQUIRE(v.size() == 25);
    const Lab x{v[0], v[1], v[2]};
    const Lab y{v[3], v[4], v[5]};
    const OuLuoTerms t = ou_luo_terms(x, y);
    CHECK(std::fabs(t.delta_C - v[11]) < 6e-7);
    CHECK(std::fabs(t.HC - v[12]) < 6e-7);
    CHECK(std::fabs(t.HL_sum - v[13]) < 6e-7);
    CHECK(std::fabs(t.H_dL - v[14]) < 6e-7);
    CHECK(std::fabs(t.HSY1 - v[18]) < 6e-7);
    CHECK(std::fabs(t.HSY2 - v[22]) < 6e-7);
    CHECK(std::fabs(t.CH - v[24]) < 6e-7);
    CHECK(std::fabs(ou_luo_harmony(y, x) - v[24]) < 6e-7);
    ++pairs;
  }
  CHECK(pairs == 26);
}
