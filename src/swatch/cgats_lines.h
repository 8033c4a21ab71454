// SPDX-License-Identifier: MIT
#pragma once

#include <cstddef>
#include <string_view>

#include "swatch/cgats.h"

namespace kithue {

/// The end of the line that starts at `at` and the start of the next; CR, LF and CRLF all end a line.
struct Line {
  std::size_t end;
  std::size_t next;
};
Line line_at(std::string_view bytes, std::size_t at);

/// Undoes spreadsheet quoting of whole lines, keeping the number of lines.
void unwrap_lines(Cgats& file);

}  // namespace kithue
