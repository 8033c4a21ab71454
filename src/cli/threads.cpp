// SPDX-License-Identifier: MIT
#include "cli/threads.h"

#include <algorithm>
#include <atomic>
#include <exception>

namespace kithue {

struct ThreadExecutor::Run {
  const std::function<void(std::size_t)>& job;
  std::size_t count;
  std::atomic<std::size_t> next{0};
  std::atomic<bool> failed{false};
  std::exception_ptr failure{};  ///< the first one

  void work() {
    try {
      for (std::size_t i = next++; i < count && !failed; i = next++) job(i);
    } catch (...) {
      if (!failed.exchange(true)) failure = std::current_exception();
    }
  }
};

ThreadExecutor::ThreadExecutor(std::size_t threads)
    : threads_(threads != 0 ? threads : std::max(1U, std::thread::hardware_concurrency())) {}

void ThreadExecutor::run(std::size_t count, const std::function<void(std::size_t)>& job) {
  Run run{job, count};
  const bool shared = count > 1 && threads_ > 1 && begin(run);
  run.work();
  if (shared) end();
  if (run.failure) std::rethrow_exception(run.failure);
}

/// False inside a job: its run is under way, or its last jobs are.
bool ThreadExecutor::begin(Run& run) {
  {
    const std::lock_guard lock(mutex_);
    if (run_ != nullptr || helping_ > 0) return false;
    run_ = &run;
    ++runs_;
    const std::size_t wanted = std::min(threads_, run.count) - 1;
    try {
      while (helpers_.size() < wanted)
        helpers_.emplace_back([this](const std::stop_token& stop) { help(stop); });
    } catch (const std::exception&) {  // no more threads, or no memory for one: those that are there do it
    }
  }
  wake_.notify_all();
  return true;
}

void ThreadExecutor::end() {
  std::unique_lock lock(mutex_);
  run_ = nullptr;
  left_.wait(lock, [this] { return helping_ == 0; });
}

void ThreadExecutor::help(const std::stop_token& stop) {
  std::unique_lock lock(mutex_);
  for (std::size_t seen = 0;;) {
    if (!wake_.wait(lock, stop, [&] { return run_ != nullptr && runs_ != seen; })) return;
    seen = runs_;
    Run& run = *run_;
    ++helping_;
    lock.unlock();
    run.work();
    lock.lock();
    if (--helping_ == 0) left_.notify_all();
  }
}

}  // namespace kithue
