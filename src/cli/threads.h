// SPDX-License-Identifier: MIT
#pragma once

#include <cstddef>

#include "base/executor.h"

namespace kithue {

/// Runs jobs on `threads` threads, the caller's among them; 0 means one a core. Threads start with the
/// first run of more than one job, so that a quick command never pays for them.
class ThreadExecutor final : public Executor {
 public:
  explicit ThreadExecutor(std::size_t threads);
  void run(std::size_t count, const std::function<void(std::size_t)>& job) override;
  [[nodiscard]] std::size_t width() const override { return threads_; }

 private:
  std::size_t threads_;
};

}  // namespace kithue
