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

TEST_CASE("ThreadExecutor: one run after the other, and runs inside jobs, do every job once") {
  constexpr std::size_t kRuns = 300;
  for (const std::size_t threads : {1, 2, 8}) {
    ThreadExecutor executor(threads);
    std::vector<std::size_t> done(kRuns, 0);
    for (std::size_t run = 0; run < kRuns; ++run) {
      std::vector<std::size_t> inside(run % 5, 0);
      executor.run(inside.size(), [&](std::size_t i) {
        std::vector<std::size_t> deeper(3, 0);
        executor.run(deeper.size(), [&](std::size_t k) { ++deeper[k]; });
        for (const std::size_t one : deeper) inside[i] += one;
      });
      for (const std::size_t one : inside) done[run] += one;
    }
    for (std::size_t run = 0; run < kRuns; ++run) CHECK(done[run] == 3 * (run % 5));
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
