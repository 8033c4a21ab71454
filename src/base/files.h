// SPDX-License-Identifier: MIT
#pragma once

#include <cstddef>
#include <string>

#include "base/result.h"

namespace kithue {

/// All bytes of a file. Refuses a directory, and a file of more than `most_bytes` before reading it.
/// Errors: cannot_read (missing, no permission, device error), bad_input (too large).
Result<std::string> read_file(const std::string& path, std::size_t most_bytes);

}  // namespace kithue
