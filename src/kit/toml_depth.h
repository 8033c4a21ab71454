// SPDX-License-Identifier: MIT
#pragma once

#include <cstddef>
#include <optional>
#include <string_view>

namespace kithue {

/// The line, counted from 1, where a TOML text goes deeper than a kit file ever does: more than 16 parts in a
/// dotted key, or more than 16 open brackets. The parser takes a tree apart by calling itself, so that a
/// key with 100,000 dots would be the end of the program. Strings and comments are passed over as TOML 1.0
/// says. Nothing when the text stays shallow.
std::optional<std::size_t> too_deep_at(std::string_view toml);

}  // namespace kithue
