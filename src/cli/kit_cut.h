// SPDX-License-Identifier: MIT
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "cli/command.h"

namespace kithue {

struct KitCutOptions {
  std::string kit;
  std::vector<std::string> papers;  ///< only these stocks and sheets; empty: all
  std::optional<int> packs;         ///< what so many packs of patterned paper give
  bool student = false;             ///< what a student cuts from her portions, instead
};

/// `kithue kit cut KIT`: how to cut every paper of a kit, edge to edge, with running totals.
ExitStatus run_kit_cut(const KitCutOptions& options, Session& session);

}  // namespace kithue
