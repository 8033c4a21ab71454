// SPDX-License-Identifier: MIT
#pragma once

#include <cstddef>
#include <string>
#include <vector>

#include "harness/tally.h"

namespace kithue::harness {

/// Names that try to steer a terminal, a shell, a spreadsheet, a page or a sheet, through every command that
/// prints them, as text, --plain and --json, in files and in error messages. Nothing printed holds a control
/// character, a direction mark or a line that the command did not write; JSON parses; a CSV cell starts no
/// formula; SVG and PDF have the parts they have with a plain name. `names_step` takes every n-th name.
Tally print_hostile_names(std::size_t names_step);

/// The names of that harness.
std::vector<std::string> hostile_names();

/// One name through one of the commands in one of the forms, by turn.
Tally print_name(std::size_t turn, const std::string& name);

}  // namespace kithue::harness
