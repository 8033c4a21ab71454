// SPDX-License-Identifier: MIT
#pragma once

#include <string>

#include "base/result.h"
#include "cli/command.h"
#include "swatch/stash.h"

namespace kithue {

/// A student's range, CSV or CGATS, as a stash of its own. Warns of rows that were not taken. `kind` and
/// `white` are for rows that do not say. Errors: cannot_read; bad_input when no row can be used.
Result<Stash> read_student_range(const std::string& list, Kind kind, const std::string& white,
                                 Session& session);

}  // namespace kithue
