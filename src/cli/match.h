// SPDX-License-Identifier: MIT
#pragma once

#include <cstddef>
#include <string>

#include "cli/advice.h"
#include "cli/command.h"

namespace kithue {

struct MatchCommandOptions {
  std::string colour;
  std::size_t count = 5;
  std::string kind;  ///< "stock", "ink", "other" or empty: any
  bool all = false;  ///< retired and out-of-stock ones too
  bool why = false;
  BandOptions bands;
};

/// `kithue match COLOUR`: the nearest owned swatches, with the difference in words.
ExitStatus run_match(const MatchCommandOptions& options, Session& session);

}  // namespace kithue
