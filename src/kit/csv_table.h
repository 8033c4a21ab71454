// SPDX-License-Identifier: MIT
#pragma once

#include <cstddef>
#include <string>
#include <string_view>
#include <vector>

#include "base/result.h"

namespace kithue {

/// A text cell of a CSV (RFC 4180): quoted, and guarded so that no spreadsheet runs it.
std::string csv_cell(std::string_view text);

/// A line of a CSV by the columns asked for; guards are taken off.
struct CsvLine {
  std::string where;  ///< "scraps.csv:12"
  std::vector<std::string> cells;
};

/// Reads a CSV whose first line names these columns, in any order and among others, separated by commas,
/// semicolons or tabs. Errors: bad_input for a missing column and for what parse_csv() refuses.
Result<std::vector<CsvLine>> csv_lines(std::string_view text, const std::vector<std::string>& columns,
                                       const std::string& name);

}  // namespace kithue
