// SPDX-License-Identifier: MIT
#pragma once

#include <string>

#include "cli/command.h"

namespace kithue {

struct TonesCommandOptions {
  std::string stock;   ///< empty: all stocks
  double hue = 20.0;   ///< degrees
  double soft = 10.0;  ///< L*
  bool readable = false;
  bool why = false;
  bool all = false;
};

/// `kithue tones [STOCK]`: owned inks and stocks that make a tone-on-tone texture.
ExitStatus run_tones(const TonesCommandOptions& options, Session& session);

}  // namespace kithue
