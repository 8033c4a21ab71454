// SPDX-License-Identifier: MIT
#pragma once

#include <string>

#include "cli/command.h"

namespace kithue {

struct LightOptions {
  std::string a;
  std::string b;
  std::string reference = "D65";
  int observer = 10;  ///< degrees: 2 or 10
};
ExitStatus run_light(const LightOptions& options, Session& session);

}  // namespace kithue
