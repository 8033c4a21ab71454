// SPDX-License-Identifier: MIT
#pragma once

#include <atomic>

namespace kithue {

/// A number that one job raises and others wait for.
class Watermark {
 public:
  /// Never lowers it.
  void raise(int to) noexcept {
    if (to <= level_.load(std::memory_order_relaxed)) return;
    level_.store(to, std::memory_order_release);
    level_.notify_all();
  }
  /// Returns when it is `least` or more. REQUIRES: the job that raises it has been started.
  void wait(int least) const noexcept {
    for (int now = level_.load(std::memory_order_acquire); now < least;
         now = level_.load(std::memory_order_acquire)) {
      level_.wait(now, std::memory_order_acquire);
    }
  }

 private:
  std::atomic<int> level_{0};
};

}  // namespace kithue
