// SPDX-License-Identifier: MIT
#include "cli/threads.h"

#include <algorithm>
#include <atomic>
#include <thread>
#include <vector>

namespace kithue {

ThreadExecutor::ThreadExecutor(std::size_t threads)
    : threads_(threads != 0 ? threads : std::max(1U, std::thread::hardware_concurrency())) {}

void ThreadExecutor::run(std::size_t count, const std::function<void(std::size_t)>& job) {
  std::atomic<std::size_t> next{0};
  const auto work = [&] {
    for (std::size_t i = next++; i < count; i = next++) job(i);
  };
  std::vector<std::jthread> helpers;
  const std::size_t wanted = std::min(threads_, count);
  for (std::size_t i = 1; i < wanted; ++i) helpers.emplace_back(work);
  work();
}

}  // namespace kithue
