// SPDX-License-Identifier: MIT
#pragma once

#include <cstddef>
#include <cstdint>
#include <string>
#include <string_view>
#include <vector>

#include "base/result.h"
#include "swatch/cgats.h"

namespace kithue {

/// Text as UTF-8: UTF-16 with a byte-order mark is converted, a UTF-8 mark taken off.
/// Errors: bad_input for half a UTF-16 character.
Result<std::string> utf8_from(std::string bytes, const std::string& name);

/// One record: cells from `first` on in Csv::cells.
struct CsvRecord {
  std::size_t first = 0;
  std::size_t count = 0;
  std::uint32_t line = 0;  ///< on which it starts
};

/// A table of separated values with every record kept, whatever its length.
struct Csv {
  std::string bytes;
  std::vector<CgatsCell> cells;
  std::vector<CsvRecord> records;  ///< blank lines left out

  /// The cell with doubled quotes undone, as written otherwise.
  [[nodiscard]] std::string text(const CsvRecord& record, std::size_t column) const;
};

/// Splits the first `most_records` records (0 = all). Quoted cells may hold separators, line ends and doubled
/// quotes (RFC 4180); CR, LF and CRLF end a record.
/// Errors: bad_input with `name:line` for an open quote, a NUL byte, or a limit of cgats.h passed.
Result<Csv> parse_csv(std::string_view utf8, char separator, std::size_t most_records,
                      const std::string& name);

}  // namespace kithue
