// SPDX-License-Identifier: MIT
#pragma once

#include <map>
#include <string>
#include <string_view>
#include <vector>

#include "harness/tally.h"

namespace kithue::harness {

/// Arguments that make each command of the table do its work on a scene; "{}" is the folder.
const std::map<std::string, std::vector<std::string>>& working_arguments();

/// "stash add" and its arguments as one list of words.
std::vector<std::string> words_of(std::string_view command, const std::vector<std::string>& args);

/// Every command of the command table with its output going to a full device and to a pipe that nobody reads,
/// with the stash in a folder that may not be written or is not there, with HOME unset. Status 5 and one line
/// for the full device; a quiet stop for the pipe; never a signal of our own making, a stash that changed, or
/// more than one line. `built` is the built kithue.
Tally spoil_outputs(const std::string& built);

}  // namespace kithue::harness
