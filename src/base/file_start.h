// SPDX-License-Identifier: MIT
#pragma once

#include <cstddef>
#include <string>

#include "base/result.h"
#include "base/system_calls.h"

namespace kithue {

/// The first `count` bytes of a regular file, or all of a shorter one; nothing of what is no regular file (a
/// pipe can be read only once). Errors: cannot_read.
Result<std::string> read_start(const std::string& path, std::size_t count,
                               SystemCalls& calls = system_calls());

}  // namespace kithue
