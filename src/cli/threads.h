// SPDX-License-Identifier: MIT
#pragma once

#include <condition_variable>
#include <cstddef>
#include <mutex>
#include <thread>
#include <vector>

#include "base/executor.h"

namespace kithue {

/// Runs jobs on `threads` threads, the caller's among them; 0 means one a core. Threads start with the
/// first run of more than one job, so that a quick command never pays for them, and then wait for the next:
/// reading one photo takes dozens of runs. A run inside a job does everything on that job's thread.
class ThreadExecutor final : public Executor {
 public:
  explicit ThreadExecutor(std::size_t threads);
  void run(std::size_t count, const std::function<void(std::size_t)>& job) override;
  [[nodiscard]] std::size_t width() const override { return threads_; }

 private:
  struct Run;
  void help(const std::stop_token& stop);
  bool begin(Run& run);
  void end();

  std::size_t threads_;
  std::mutex mutex_;  ///< guards what follows
  std::condition_variable_any wake_;
  std::condition_variable_any left_;
  Run* run_ = nullptr;
  std::size_t runs_ = 0;     ///< begun so far
  std::size_t helping_ = 0;  ///< helpers inside the run
  std::vector<std::jthread> helpers_;
};

}  // namespace kithue
