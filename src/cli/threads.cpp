// SPDX-License-Identifier: MIT
#include "cli/threads.h"

#include <algorithm>
#include <atomic>
#include <exception>
#include <thread>
#include <vector>

namespace kithue {

ThreadExecutor::ThreadExecutor(std::size_t threads)
    : threads_(threads != 0 ? threads : std::max(1U, std::thread::hardware_concurrency())) {}

void ThreadExecutor::run(std::size_t count, const std::function<void(std::size_t)>& job) {
  std::atomic<std::size_t> next{0};
  std::atomic<bool> failed{false};
  std::exception_ptr failure;  // the first one
  const auto work = [&] {
    try {
      for (std::size_t i = next++; i < count && !failed; i = next++) job(i);
    } catch (...) {
      if (!failed.exchange(true)) failure = std::current_exception();
    }
  };
  {
    std::vector<std::jthread> helpers;
    const std::size_t wanted = std::min(threads_, count);
    try {
      for (std::size_t i = 1; i < wanted; ++i) helpers.emplace_back(work);
    } catch (const std::exception&) {  // no more threads, or no memory for one: those that are there do it
    }
    work();
  }
  if (failure) std::rethrow_exception(failure);
}

}  // namespace kithue
