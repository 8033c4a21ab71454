// SPDX-License-Identifier: MIT
#pragma once

#include <cstddef>

#include "harness/tally.h"

namespace kithue::harness {

/// Names that try to steer a terminal, a shell, a spreadsheet, a page or a sheet, through every command that
/// prints them, as text, --plain and --json, in files and in error messages. Nothing printed holds a control
/// character, a direction mark or a line that the command did not write; JSON parses; a CSV cell starts no
/// formula; SVG and PDF have the parts they have with a plain name. `names_step` takes every n-th name.
Tally print_hostile_names(std::size_t names_step);

}  // namespace kithue::harness
