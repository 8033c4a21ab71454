// SPDX-License-Identifier: MIT
// The change tier of the harnesses in tools/harness; tools/soak runs the long one.
#include <doctest/doctest.h>

#include "harness/damage.h"
#include "harness/interrupt.h"
#include "harness/names.h"
#include "harness/outputs.h"
#include "harness/process.h"
#include "places.h"
#include "reliability/check_tally.h"

using kithue_test::check_tally;
using kithue_test::kThinning;

TEST_CASE("a damaged stash: always named, and the last good copy comes back") {
  check_tally(kithue::harness::damage_stash(20'480, 7 * kThinning, 7 * kThinning, 1000, 300, 1),
              25'000 / kThinning);
}

TEST_CASE("hostile names: nothing printed or written obeys them") {
  check_tally(kithue::harness::print_hostile_names(4 * kThinning), 3000 / kThinning);
}

TEST_CASE("full devices, closed pipes, odd places: the right status and a line or two") {
  check_tally(kithue::harness::spoil_outputs(kithue::tests::kProgram), 90);
}

TEST_CASE("Ctrl-C in long commands: 130 within a second, files old or new") {
  constexpr int kEach = kThinning == 1 ? 4 : 1;
  check_tally(kithue::harness::interrupt_long_commands(kithue::tests::kProgram, kEach, 1), 8 * kEach);
}

TEST_CASE("Ctrl-C harness: a program without a handler is never interrupted, so it cannot pass") {
  const auto ended = kithue::harness::run_process({.words = {"/bin/sleep", "0.2"}}, 0.01);
  CHECK(ended.interrupted_at == 0.0);
  CHECK(ended.status == 0);
}
