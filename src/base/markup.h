// SPDX-License-Identifier: MIT
#pragma once

#include <string>
#include <string_view>

namespace kithue {

/// Text that may stand in an element or in a quoted attribute of HTML, XML and SVG: cleaned by printable(),
/// the five characters of markup as entities, and what XML 1.0 has no place for (U+FFFE, U+FFFF) as U+FFFD.
std::string markup_text(std::string_view text);

/// RFC 4648 base64 with padding, for data: addresses.
std::string base64(std::string_view bytes);

}  // namespace kithue
