// SPDX-License-Identifier: MIT
#pragma once

#include "cli/command.h"

namespace kithue {

/// The scripts that make a shell complete, and the words they ask for.
void add_completion(CLI::App& command, Invocation& call);

}  // namespace kithue
