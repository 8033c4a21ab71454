// SPDX-License-Identifier: MIT
#pragma once

#include <doctest/doctest.h>

#include "harness/tally.h"

namespace kithue_test {

/// Under sanitizers a command takes five times as long, so one fault in this many is tried there: the release
/// build tries all, and what sanitizers look for is the code on the way out of a failure.
#ifdef __SANITIZE_ADDRESS__
inline constexpr int kThinning = 5;
#else
inline constexpr int kThinning = 1;
#endif

/// Prints what a harness did; fails when a promise was broken or too little was tried.
inline void check_tally(const kithue::harness::Tally& tally, long long fired_at_least) {
  MESSAGE(tally.name << ": tried " << tally.tried << ", fired " << tally.fired << ", failed "
                     << tally.failed);
  for (const std::string& what : tally.failures) MESSAGE(what);
  CHECK(tally.failed == 0);
  CHECK(tally.fired >= fired_at_least);
}

}  // namespace kithue_test
