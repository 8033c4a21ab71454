// SPDX-License-Identifier: MIT
#include <malloc.h>
#include <sys/ioctl.h>
#include <unistd.h>

#include <csignal>
#include <cstdlib>
#include <iostream>

#include "cli/command.h"
#include "cli/threads.h"

namespace {

// Nothing needs tidying: every file appears whole or not at all.
extern "C" void stop(int signal) {
  constexpr char kMessage[] = "\nkithue: stopped\n";
  if (::write(STDERR_FILENO, kMessage, sizeof kMessage - 1) < 0) {
  }
  ::_exit(128 + signal);
}

std::size_t terminal_columns() {
  winsize size = {};
  if (::ioctl(STDOUT_FILENO, TIOCGWINSZ, &size) == 0 && size.ws_col >= 20) return size.ws_col;
  return 80;
}

/// What is freed stays for the next step: giving it back and fetching it again, page by page, took a tenth of
/// the time that reading a photo takes.
void keep_freed_memory() {
#ifdef M_TRIM_THRESHOLD
  constexpr int kKept = 64 << 20;
  constexpr int kFetched = 4 << 20;  // at a time
  ::mallopt(M_TRIM_THRESHOLD, kKept);
  ::mallopt(M_MMAP_THRESHOLD, kKept / 2);
  ::mallopt(M_TOP_PAD, kFetched);
#endif
}

}  // namespace

int main(int argc, char** argv) {
  keep_freed_memory();
  std::signal(SIGINT, stop);
  std::signal(SIGTERM, stop);
  std::ios::sync_with_stdio(false);
  const kithue::Surroundings around{
      .out = std::cout,
      .err = std::cerr,
      .environment = [](const char* name) -> std::optional<std::string> {
        const char* value = std::getenv(name);
        return value != nullptr ? std::optional<std::string>(value) : std::nullopt;
      },
      .out_is_terminal = ::isatty(STDOUT_FILENO) == 1,
      .err_is_terminal = ::isatty(STDERR_FILENO) == 1,
      .columns = terminal_columns(),
      .make_executor = [](std::size_t threads) -> std::unique_ptr<kithue::Executor> {
        return std::make_unique<kithue::ThreadExecutor>(threads);
      },
      .in = ::isatty(STDIN_FILENO) == 1 && ::isatty(STDERR_FILENO) == 1 ? &std::cin : nullptr,
  };
  return kithue::run_kithue({argv + 1, argv + argc}, around);
}
