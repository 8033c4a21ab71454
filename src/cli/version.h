// SPDX-License-Identifier: MIT
#pragma once

#include <string>

namespace kithue {

/// "kithue 0.1.0 (stash format 1, ...)": program, stash format and colour constants.
std::string version_text();

}  // namespace kithue
