// SPDX-License-Identifier: MIT
#pragma once

#include <map>
#include <memory>
#include <optional>
#include <sstream>
#include <string>
#include <vector>

#include "cli/command.h"

namespace kithue_test {

/// What one run of the program said.
struct Run {
  int status = 0;
  std::string out;
  std::string err;
};

/// Runs the program in this process, with string streams and only the environment given here.
inline Run run(const std::vector<std::string>& args,
               const std::map<std::string, std::string>& environment = {}, bool terminal = false) {
  std::ostringstream out;
  std::ostringstream err;
  const kithue::Surroundings around{
      .out = out,
      .err = err,
      .environment = [&](const char* name) -> std::optional<std::string> {
        const auto at = environment.find(name);
        return at == environment.end() ? std::nullopt : std::optional<std::string>(at->second);
      },
      .out_is_terminal = terminal,
      .err_is_terminal = false,
      .make_executor = [](std::size_t) -> std::unique_ptr<kithue::Executor> {
        return std::make_unique<kithue::SerialExecutor>();
      },
  };
  Run result;
  result.status = kithue::run_kithue(args, around);
  result.out = out.str();
  result.err = err.str();
  return result;
}

}  // namespace kithue_test
