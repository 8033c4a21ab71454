// SPDX-License-Identifier: MIT
#pragma once

#include <string>

#include "cli/command.h"

namespace kithue {

struct KitRepeatOptions {
  std::string kit;
  std::string history;  ///< empty: kit-history.csv beside the stash
  bool remember = false;
  bool dry_run = false;
  std::size_t count = 5;
};

/// `kithue kit repeat KIT`: which earlier kit is nearest in palette, and how near.
ExitStatus run_kit_repeat(const KitRepeatOptions& options, Session& session);

struct KitScrapsOptions {
  std::string kit;
  std::string scraps;  ///< empty: scraps.csv beside the stash
  std::string least = "25 mm";
  bool keep = false;
  bool dry_run = false;
};

/// `kithue kit scraps KIT`: what of a kit can be cut from scraps, and what its own plans leave.
ExitStatus run_kit_scraps(const KitScrapsOptions& options, Session& session);

/// The text of a file that may be missing: then empty, unless the user named it. Errors: cannot_read.
Result<std::string> text_beside_stash(const std::string& named, const std::string& path);
/// `named`, else `name` in the folder of the stash.
std::string path_beside_stash(const std::string& named, const std::string& name, const Session& session);

}  // namespace kithue
