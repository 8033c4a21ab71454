// SPDX-License-Identifier: MIT
#pragma once

#include <cstddef>
#include <cstdint>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "base/result.h"

namespace kithue {

/// Limits of every table that is read: a small file can never ask for much.
inline constexpr std::size_t kMostFileBytes = 64UL * 1024 * 1024;
inline constexpr std::size_t kMostRows = 1'000'000;
inline constexpr std::size_t kMostCellBytes = 64UL * 1024;
inline constexpr std::size_t kMostColumns = 10'000;
inline constexpr std::size_t kMostCells = 20'000'000;

/// One value of a data block: a piece of Cgats::bytes.
struct CgatsCell {
  std::uint32_t start = 0;
  std::uint32_t length : 31 = 0;
  std::uint32_t quoted : 1 = 0;
};

struct CgatsKeyword {
  std::string name;
  std::string value;
  std::size_t line = 0;
};

/// One table: keywords, field names, rows.
struct CgatsTable {
  std::vector<CgatsKeyword> keywords;
  std::vector<std::string> fields;
  std::vector<CgatsCell> cells;          ///< row after row, fields.size() each
  std::size_t fields_line = 1;           ///< of the file, where the field names begin
  std::vector<std::uint32_t> row_lines;  ///< the line on which each row starts

  [[nodiscard]] std::size_t rows() const { return row_lines.size(); }
  /// The column of a field, any case; nothing when it is not there.
  [[nodiscard]] std::optional<std::size_t> column(std::string_view field) const;
  /// The value of the last keyword of that name, any case; null when it is not there.
  [[nodiscard]] const std::string* keyword(std::string_view name) const;
};

/// Something the file says that is not so: a row with too few values, a count that does not agree.
struct CgatsProblem {
  std::size_t line = 0;
  std::string what;
  std::string advice;
  bool is_row = false;  ///< a row that was left out of its table
};

/// A whole file.
struct Cgats {
  std::string bytes;
  std::vector<CgatsTable> tables;      ///< those with a data block, in order
  std::vector<CgatsProblem> problems;  ///< in order of line
  std::vector<std::string> repairs;    ///< what was put right on the way in, for a warning

  /// The value as text: doubled quotes inside quoted text undone.
  [[nodiscard]] std::string text(const CgatsCell& cell) const;
  /// The value as it stands in the file, without its quotes.
  [[nodiscard]] std::string_view raw(const CgatsCell& cell) const {
    return std::string_view(bytes).substr(cell.start, cell.length);
  }
};

/// True for text with a line that begins a data block, a format block or a count, or that starts with CGATS.
bool looks_like_cgats(std::string_view bytes);

/// Reads any CGATS-like text: several tables, comments, CR, LF or both, rows wrapped over lines, text that a
/// spreadsheet quoted again. Counts in the header are claims: they are compared with what is there, never
/// used to reserve memory. A '#' starts a comment at the beginning of a word only.
/// Errors: bad_input with `name:line` for an open quote, a NUL byte, a data block without field names, no
/// data at all, or a limit passed. Faults of single rows and counts are problems, left to the caller.
/// Source: ANSI CGATS.17-2009 / ISO 28178:2009.
Result<Cgats> parse_cgats(std::string bytes, const std::string& name);

}  // namespace kithue
