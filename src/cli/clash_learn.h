// SPDX-License-Identifier: MIT
#pragma once

#include <string>

#include "advise/verdict.h"
#include "cli/command.h"

namespace kithue {

/// `kithue clash --learn FILE`: bands that agree with the user's own verdicts on pairs. The file is CSV with
/// the columns a, b and verdict, which is "goes" or "clashes"; a and b are swatches or colours. Errors: those
/// of the file with its line; impossible when there are too few pairs.
ExitStatus run_clash_learn(const std::string& file, const Bands& start, Session& session);

}  // namespace kithue
