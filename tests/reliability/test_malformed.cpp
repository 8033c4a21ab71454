// SPDX-License-Identifier: MIT
// Files of every kind that is read, made from seeds; tools/soak runs them through the program as well.
#include <doctest/doctest.h>

#include "harness/malformed.h"
#include "reliability/check_tally.h"

using kithue_test::check_tally;

TEST_CASE("spoilt files of every kind: refused with the line or the byte") {
  check_tally(kithue::harness::read_spoilt_files(1, 1), 2200);
}

TEST_CASE("sound files of every kind: read, pictures with the pixels that stb_image finds") {
  check_tally(kithue::harness::read_sound_files(1, 1), 700);
}
