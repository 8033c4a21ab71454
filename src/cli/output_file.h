// SPDX-License-Identifier: MIT
#pragma once

#include <string>

#include "base/result.h"

namespace kithue {

/// Told before anything is asked or worked out, and once more by the writer, so that nobody waits for
/// nothing. Errors: cannot_write where there is a file and `force` is not said, or no ordinary file.
MaybeError in_the_way(const std::string& path, bool force);

}  // namespace kithue
