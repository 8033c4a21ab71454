// SPDX-License-Identifier: MIT
// The colours are made up; what is checked is which of them count as drawn.
#include <doctest/doctest.h>

#include <vector>

#include "colour/difference.h"
#include "extract/doubles.h"

using namespace kithue;
using namespace kithue::extract;

namespace {

ThinColour thin_of(const Lab& lab, double misfit, double cells) {
  ThinColour out;
  out.lab = lab;
  out.width = 9.0;
  out.misfit = misfit;
  out.cells = cells;
  out.ground = kNoLabel;
  out.sides = {kNoLabel, kNoLabel};
  return out;
}

}  // namespace

TEST_CASE(
    "is_faded: few places that fit no band well, between a colour and a ground as bright, are that colour") {
  const std::vector<Lab> grounds{{93.5, -1.3, 4.9}, {42.2, 38.3, -13.7}};
  const std::vector<ThinColour> found{thin_of({45.4, 51.1, 30.8}, 0.0073, 4350.0)};
  const Lab between{44.3, 46.8, 15.0};
  CHECK(is_faded(thin_of(between, 0.0091, 1264.0), grounds, found));
  CHECK_FALSE(is_faded(thin_of(between, 0.0050, 1264.0), grounds, found));  // a band, and a good one
  CHECK_FALSE(is_faded(thin_of(between, 0.0091, 3000.0), grounds, found));  // as much of it
  CHECK_FALSE(is_faded(thin_of({44.3, 40.0, 30.0}, 0.0091, 1264.0), grounds, found));  // not between
  CHECK_FALSE(is_faded(thin_of({60.0, 46.8, 15.0}, 0.0091, 1264.0), grounds, found));  // brighter than both
}

TEST_CASE("is_relief: light and shade on a sheet reach as far as its grain; what is drawn begins nearer") {
  const std::vector<Lab> sheet{{55.2, -7.6, -2.6}};
  constexpr int kHardly = kSteps / 10;
  const Lab next_tone{60.4, -10.6, -3.7};  // 5.5 dE00
  CHECK(is_relief(next_tone, sheet, kHardly, false));
  CHECK_FALSE(is_relief(next_tone, sheet, kHardly, true));
  const Lab as_bright{55.6, -13.4, -5.0};  // of more colour: coding may have faded a line of it
  const double off = ciede2000(as_bright, sheet[0]);
  CHECK(off > 5.0);
  CHECK(off < 6.0);
  CHECK(is_relief(as_bright, sheet, kHardly, true));
  const Lab darker{46.0, -6.6, -2.2};  // 9.1 dE00, the same hue: shade
  CHECK(is_relief(darker, sheet, kSteps, false));
  CHECK_FALSE(is_relief(darker, sheet, kHardly, false));
}
