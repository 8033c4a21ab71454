// SPDX-License-Identifier: MIT
#include <doctest/doctest.h>

#include <vector>

#include "base/watermark.h"
#include "cli/threads.h"

using namespace kithue;

TEST_CASE("watermark: a job sees what was written before the mark that it waited for") {
  for (const std::size_t threads : {1U, 2U, 8U}) {
    CAPTURE(threads);
    ThreadExecutor executor(threads);
    constexpr int kRows = 200;
    std::vector<int> rows(kRows, 0);
    std::vector<int> seen(kRows + 1, -1);
    Watermark there;
    executor.run(kRows + 1, [&](std::size_t job) {
      if (job == 0) {
        for (int i = 0; i < kRows; ++i) {
          rows[static_cast<std::size_t>(i)] = i + 1;
          there.raise(i + 1);
        }
        there.raise(3);  // never goes back
        return;
      }
      there.wait(static_cast<int>(job));
      seen[job] = rows[job - 1];
    });
    for (int i = 1; i <= kRows; ++i) CHECK(seen[static_cast<std::size_t>(i)] == i);
  }
}
