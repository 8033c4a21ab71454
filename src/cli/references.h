// SPDX-License-Identifier: MIT
#pragma once

#include <string>
#include <vector>

#include "base/result.h"
#include "cli/command.h"
#include "cli/extract.h"
#include "colour/lab.h"

namespace kithue {

/// A place in the frame whose colour the user knows.
struct Reference {
  std::string name;
  Lab lab;
  CropWords window;
};

/// The white card and the chips of the command line, their colours looked up in the stash where they are
/// names. Errors: bad_usage for what cannot be read, those of resolve_colour().
Result<std::vector<Reference>> references_of(const ExtractCommand& options, Session& session);

}  // namespace kithue
