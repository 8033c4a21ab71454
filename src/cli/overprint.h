// SPDX-License-Identifier: MIT
#pragma once

#include <optional>
#include <string>

#include "cli/command.h"

namespace kithue {

struct OverprintCommandOptions {
  std::string ink;
  std::string stock;
  std::string on;               ///< the paper of the ink's reading; empty: what its record says
  std::optional<double> cover;  ///< 0-1; else by the ink's method
  bool why = false;
  double strength = 1.0;  ///< 0.5 stamped off, 1.5 stamped twice
};

/// `kithue overprint INK STOCK`: the colour of an ink on a coloured stock, and whether words will read.
ExitStatus run_overprint(const OverprintCommandOptions& options, Session& session);

}  // namespace kithue
