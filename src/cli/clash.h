// SPDX-License-Identifier: MIT
#pragma once

#include <string>
#include <vector>

#include "cli/advice.h"
#include "cli/command.h"

namespace kithue {

struct ClashCommandOptions {
  std::vector<std::string> colours;  ///< two or more, or none with `kit` or `learn`
  std::string kit;                   ///< a kit file: its touching pairs, or empty
  std::string learn;                 ///< a file of the user's own verdicts, or empty
  std::string picture;               ///< an SVG to write, or empty
  bool force = false;                ///< the picture may replace a file
  std::string fail_on;               ///< "clash", "unsure" or empty
  bool why = false;
  bool vision = false;  ///< also the pairs that merge for some eyes
  BandOptions bands;
};

/// `kithue clash A B [C...]`: does each pair go, clash, or is it too close to call, and why.
/// `found` instead of `done` only with fail_on: "clash" when a pair clashes, "unsure" also when one is
/// unsure.
ExitStatus run_clash(const ClashCommandOptions& options, Session& session);

}  // namespace kithue
