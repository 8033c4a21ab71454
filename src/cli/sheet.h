// SPDX-License-Identifier: MIT
#pragma once

#include <string>

#include "cli/command.h"

namespace kithue {

struct SheetCommand {
  std::string kit;
  std::string output;  ///< empty: beside the kit file, with .pdf for its ending; "-": standard output
  std::string page;    ///< "a4", "letter", or empty: what the kit says, else A4
  bool force = false;  ///< replace a file that is there
};

ExitStatus run_sheet(const SheetCommand& options, Session& session);

}  // namespace kithue
