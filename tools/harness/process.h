// SPDX-License-Identifier: MIT
#pragma once

#include <functional>
#include <string>
#include <vector>

namespace kithue::harness {

/// How a program is started.
struct Start {
  std::vector<std::string> words;        ///< the program's path, then its arguments
  std::vector<std::string> environment;  ///< "NAME=value"
  std::string out = "/dev/null";         ///< where standard output goes; "|" = a pipe that nobody reads
  std::string folder;                    ///< working folder; empty = this one
  std::size_t most_memory_mb = 0;        ///< address space; 0 = no limit
  int user = 0;                          ///< user to become when this process is root; 0 = none
};

/// How it ended.
struct Ended {
  int status = -1;  ///< exit status; -1 when a signal ended it
  int signal = 0;   ///< that signal
  std::string err;  ///< standard error
  double seconds = 0.0;
  long peak_kb = 0;  ///< most memory in use
};

/// Runs a program to its end, or `interrupt_after_s` seconds and then SIGINT (0 = never); killed after 60 s.
Ended run_process(const Start& start, double interrupt_after_s = 0.0);

}  // namespace kithue::harness
