// SPDX-License-Identifier: MIT
#pragma once

#include <cstddef>
#include <string>
#include <vector>

#include "cli/advice.h"
#include "cli/command.h"

namespace kithue {

struct StandInCommandOptions {
  std::vector<std::string> names;  ///< one: a list of offers; several: one stand-in each
  std::size_t count = 5;
  std::string kind;               ///< empty: the kind of the missing swatch
  std::vector<std::string> with;  ///< the kit's other colours
  double limit = 6.0;             ///< dE00 above which none is good
  std::string list;               ///< a student's range as CSV or CGATS; empty: the stash
  std::string white;              ///< of the list, where it does not say
  bool why = false;
  bool shared = false;  ///< several names may have the same stand-in
  BandOptions bands;
};

/// `kithue standin NAME...`: what replaces a retired or missing colour, from the stash or from a student's
/// range.
ExitStatus run_standin(const StandInCommandOptions& options, Session& session);

}  // namespace kithue
