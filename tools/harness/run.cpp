// SPDX-License-Identifier: MIT
#include "harness/run.h"

#include <memory>
#include <optional>
#include <sstream>

#include "cli/command.h"

namespace kithue::harness {

Run run(const std::vector<std::string>& args, const std::map<std::string, std::string>& environment,
        bool terminal) {
  std::ostringstream out;
  std::ostringstream err;
  const Surroundings around{
      .out = out,
      .err = err,
      .environment = [&](const char* name) -> std::optional<std::string> {
        const auto at = environment.find(name);
        return at == environment.end() ? std::nullopt : std::optional<std::string>(at->second);
      },
      .out_is_terminal = terminal,
      .err_is_terminal = false,
      .make_executor = [](std::size_t) -> std::unique_ptr<Executor> {
        return std::make_unique<SerialExecutor>();
      },
  };
  Run result;
  result.status = run_kithue(args, around);
  result.out = out.str();
  result.err = err.str();
  return result;
}

}  // namespace kithue::harness
