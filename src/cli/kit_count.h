// SPDX-License-Identifier: MIT
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "base/result.h"
#include "cli/command.h"
#include "kit/count.h"

namespace kithue {

struct KitCountOptions {
  std::string kit;
  std::string output;  ///< the CSV to write; "-" is standard output; empty: none
  bool force = false;
  std::optional<int> packs;  ///< share so many packs out among the pieces
};

/// `kithue kit count KIT`: the sheets, packs, portions, dots and inks that a kit takes, and what to buy.
ExitStatus run_kit_count(const KitCountOptions& options, Session& session);

/// The names of the stocks of which a pattern strip of the kit shows a dot; none without [strip]. Reads the
/// stash, and the photos of faces whose stocks are found by matching. Errors: those of both.
Result<std::vector<std::string>> solids_of_strips(const Kit& kit, const std::string& kit_path,
                                                  Session& session);

}  // namespace kithue
