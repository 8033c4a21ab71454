// SPDX-License-Identifier: MIT
#pragma once

#include <string>

#include "cli/advice.h"
#include "cli/command.h"

namespace kithue {

struct HarmonyCommandOptions {
  std::string colour;
  std::string kind;            ///< "stock", "ink", "other" or empty: any
  std::string circle = "lab";  ///< or "painter"
  std::string picture;         ///< an SVG to write, or empty
  bool force = false;          ///< the picture may replace a file
  bool why = false;
  double tolerance = 15.0;  ///< degrees
  BandOptions bands;
};

/// `kithue harmony COLOUR`: sets built from what is owned.
ExitStatus run_harmony(const HarmonyCommandOptions& options, Session& session);

}  // namespace kithue
