// SPDX-License-Identifier: MIT
#pragma once

#include <string>
#include <string_view>

#include "swatch/stash.h"

namespace kithue {

/// The stash as a CSV table (RFC 4180, UTF-8, CRLF), a row a reading, that read_import() takes back whole.
/// Text is always quoted, and text that a spreadsheet would take for a formula gets a leading apostrophe;
/// numbers never do. The numbers are under D50, 2 degree; `white` says what they were given under.
std::string csv_text(const Stash& stash);

/// With an apostrophe before text that starts like a formula (= + - @ tab CR, their full-width forms) or with
/// an apostrophe; and without exactly one such apostrophe.
std::string with_guard(std::string_view text);
std::string without_guard(std::string_view text);

}  // namespace kithue
