// SPDX-License-Identifier: MIT
#include <doctest/doctest.h>

#include <atomic>
#include <chrono>
#include <cstddef>
#include <new>
#include <thread>
#include <vector>

#include "cli/threads.h"

using namespace kithue;

TEST_CASE("ThreadExecutor: every job is done once, on any number of threads") {
  for (const std::size_t threads : {1, 2, 8}) {
    std::vector<int> done(1000, 0);
    ThreadExecutor executor(threads);
    executor.run(done.size(), [&](std::size_t i) { ++done[i]; });
    CHECK(done == std::vector<int>(1000, 1));
  }
}

TEST_CASE("ThreadExecutor: what a job throws comes out, whichever thread it ran on, and nothing runs on") {
  for (const std::size_t threads : {1, 2, 8}) {
    for (const std::size_t bad : {0, 1, 7, 199}) {
      ThreadExecutor executor(threads);
      std::atomic<int> in_flight{0};
      const auto job = [&](std::size_t i) {
        if (i == bad) throw std::bad_alloc();
        ++in_flight;
        std::this_thread::sleep_for(std::chrono::microseconds(100));  // long enough to be seen
        --in_flight;
      };
      CHECK_THROWS_AS(executor.run(200, job), std::bad_alloc);
      CHECK(in_flight == 0);
    }
  }
}
