// SPDX-License-Identifier: MIT
#pragma once

#include <string>
#include <string_view>

namespace kithue {

/// XXH3, 128 bits, as 32 lower-case hex digits. Finds damage; it is no defence against a forger.
/// Source: the xxHash 0.8 specification; the value is stable across versions and machines.
std::string checksum(std::string_view bytes);

}  // namespace kithue
