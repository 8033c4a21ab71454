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
  int status = -1;               ///< exit status; -1 when a signal ended it
  int signal = 0;                ///< that signal
  std::string err;               ///< standard error
  double seconds = 0.0;          ///< from its start to its end
  double interrupted_at = 0.0;   ///< when SIGINT was sent, in seconds from its start; 0 = it was not
  double processor_after = 0.0;  ///< seconds of processor time it used since then (0: since its start)
  long peak_kb = 0;              ///< most memory in use
};

/// Runs a program to its end. With `interrupt_after_s` it gets SIGINT that many seconds after its start, but
/// not before it has a handler for it: a program without one is never interrupted. Killed after 300 s.
Ended run_process(const Start& start, double interrupt_after_s = 0.0);

}  // namespace kithue::harness
