// SPDX-License-Identifier: MIT
#pragma once

#include <map>
#include <string>
#include <vector>

namespace kithue::harness {

/// What one run of the program said.
struct Run {
  int status = 0;
  std::string out;
  std::string err;
};

/// Runs the program in this process, on one thread, with string streams and only the environment given here.
Run run(const std::vector<std::string>& args, const std::map<std::string, std::string>& environment = {},
        bool terminal = false);

}  // namespace kithue::harness
