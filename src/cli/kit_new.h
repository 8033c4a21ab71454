// SPDX-License-Identifier: MIT
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "cli/command.h"

namespace kithue {

/// What is not said is asked where somebody can answer, else it has a default.
struct KitNewOptions {
  std::string kit;
  std::optional<std::string> name;
  std::optional<int> kits;
  std::optional<int> spares;
  std::optional<double> spoilage;
  std::optional<std::string> page;        ///< "A4" or "Letter"
  std::optional<std::string> pack_sheet;  ///< "12 x 12 in"
  std::optional<int> copies;
  std::optional<int> sheets;
  std::vector<std::string> photos;
  bool one_sided = false;
  std::optional<std::string> base;
  std::optional<std::string> mat;
  std::optional<std::string> ink;
  bool force = false;
  bool dry_run = false;
};

/// `kithue kit new KIT`: writes a kit file with notes in it, to be filled in.
ExitStatus run_kit_new(const KitNewOptions& options, Session& session);

}  // namespace kithue
