// SPDX-License-Identifier: MIT
#pragma once

#include <string>

#include "cli/advice.h"
#include "cli/command.h"

namespace kithue {

struct KitCheckOptions {
  std::string kit;
  std::string fail_on;  ///< "fault", "risk", "note" or empty
  BandOptions bands;
};

/// `kithue kit check KIT`: everything that is wrong with a kit or may be, worst first, with what to do.
/// `found` instead of `done` only with fail_on: when something is as bad as that, or worse.
ExitStatus run_kit_check(const KitCheckOptions& options, Session& session);

}  // namespace kithue
