// SPDX-License-Identifier: MIT
#pragma once

#include <cstddef>
#include <functional>

namespace kithue {

/// Runs independent jobs, perhaps at the same time. The engine owns no threads: `cli` hands it one of
/// these. A caller must give the same answer whatever the order and number of jobs in flight, so each
/// job writes only to its own slot and sums are made afterwards, in index order. What a job throws, run
/// throws when no job is in flight any more; the others may then be left out.
class Executor {
 public:
  virtual ~Executor() = default;
  /// Starts job(0) ... job(count - 1) in this order (one may wait for those before); all are done at the end.
  virtual void run(std::size_t count, const std::function<void(std::size_t)>& job) = 0;
  /// How many jobs may be in flight at a time: 1 or more.
  [[nodiscard]] virtual std::size_t width() const = 0;
};

/// One after the other, on the caller's thread.
class SerialExecutor final : public Executor {
 public:
  void run(std::size_t count, const std::function<void(std::size_t)>& job) override {
    for (std::size_t i = 0; i < count; ++i) job(i);
  }
  [[nodiscard]] std::size_t width() const override { return 1; }
};

}  // namespace kithue
