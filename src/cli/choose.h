// SPDX-License-Identifier: MIT
#pragma once

#include <cstddef>
#include <optional>
#include <string>

#include "cli/advice.h"
#include "cli/command.h"

namespace kithue {

struct ChooseCommandOptions {
  std::string kit;
  std::size_t count = 0;           ///< 0: what the kit says, else the fewest within `within`
  double within = 6.0;             ///< dE00, mean over the pack
  bool fewest = false;             ///< whatever the kit says
  std::string sentiment = "fine";  ///< or "bold"
  std::string kind = "ink";        ///< or "stock", "mat", "base"
  std::optional<double> budget;    ///< money; else what the kit says
  std::string picture;             ///< an SVG file to draw the cards in
  bool force = false;
  bool why = false;
  BandOptions bands;
};

/// `kithue choose KIT`: the best set of inks (or stocks) for the whole pack, proved.
ExitStatus run_choose(const ChooseCommandOptions& options, Session& session);

}  // namespace kithue
