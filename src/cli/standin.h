// SPDX-License-Identifier: MIT
#pragma once

#include <cstddef>
#include <string>
#include <vector>

#include "cli/advice.h"
#include "cli/command.h"

namespace kithue {

struct StandInCommandOptions {
  std::string name;
  std::size_t count = 5;
  std::string kind;               ///< empty: the kind of the missing swatch
  std::vector<std::string> with;  ///< the kit's other colours
  double limit = 6.0;             ///< dE00 above which none is good
  BandOptions bands;
};

/// `kithue standin NAME`: what replaces a retired or missing colour.
ExitStatus run_standin(const StandInCommandOptions& options, Session& session);

}  // namespace kithue
