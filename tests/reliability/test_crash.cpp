// SPDX-License-Identifier: MIT
// The change tier of the harnesses in tools/harness; tools/soak runs the long one.
#include <doctest/doctest.h>

#include "harness/crash.h"
#include "harness/power_loss.h"
#include "reliability/check_tally.h"

using kithue_test::check_tally;
using kithue_test::kThinning;

TEST_CASE("killed at any system call of any writing command: old or new, and the next command works") {
  check_tally(kithue::harness::kill_at_every_call({0, 1, 300}, kThinning), 600 / kThinning);
}

TEST_CASE("killed at random moments: no acknowledged change is lost") {
  check_tally(kithue::harness::kill_at_random(500 / kThinning, 1), 400 / kThinning);
}

TEST_CASE("the holder of the lock is killed: nobody waits") {
  check_tally(kithue::harness::kill_lock_holder(50), 50);
}

TEST_CASE("power cut at any request: every disk that could be left opens to old or new") {
  check_tally(kithue::harness::cut_power({0, 1}), 900);
}

TEST_CASE("any system call fails in any way: a clear message and nothing changed") {
  check_tally(kithue::harness::fail_every_call({1}, kThinning), 3000 / kThinning);
}

TEST_CASE("writers and readers at the same time: everything is there and every read is whole") {
  constexpr int kWriters = kThinning == 1 ? 16 : 4;
  check_tally(kithue::harness::write_together(kWriters, 15, kWriters / 2, 1), 15 * kWriters);
}
