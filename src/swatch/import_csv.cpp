// SPDX-License-Identifier: MIT
#include <algorithm>
#include <optional>
#include <utility>

#include "base/text.h"
#include "swatch/csv.h"
#include "swatch/import_grid.h"

namespace kithue {
namespace {

constexpr std::size_t kHeaderSearch = 60;  // instruments print a few lines before the table

Error no_lab(const std::string& name, std::size_t line, const std::vector<std::string>& seen) {
  std::vector<std::string> shown(
      seen.begin(), seen.begin() + static_cast<std::ptrdiff_t>(std::min<std::size_t>(seen.size(), 8)));
  return {ErrorKind::bad_input,
          "no columns for L, a and b, for X, Y and Z or for a spectrum; found " +
              (shown.empty() ? "nothing" : joined(shown, ", ")),
          name + ":" + std::to_string(line),
          "the first line must name the columns, as in name,kind,white,L,a,b"};
}

std::vector<std::string> cells_of(const Csv& csv, const CsvRecord& record) {
  std::vector<std::string> cells;
  for (std::size_t i = 0; i < record.count; ++i) cells.emplace_back(trimmed(csv.text(record, i)));
  return cells;
}

struct Header {
  char separator = ',';
  std::size_t record = 0;
  Columns columns;
  std::size_t line = 0;
  std::string before;  ///< text of the lines above it
};

/// The first line that names L, a and b under some separator.
Result<Header> find_header(const std::string& text, const std::string& name) {
  std::vector<std::string> seen;
  std::optional<Error> trouble;
  for (const char separator : {'\t', ';', ','}) {
    const auto csv = parse_csv(text, separator, kHeaderSearch, name);
    if (!csv) {
      trouble = csv.error();
      continue;
    }
    std::string before;
    for (std::size_t i = 0; i < csv->records.size(); ++i) {
      auto cells = cells_of(*csv, csv->records[i]);
      if (i == 0 && cells.size() >= seen.size()) seen = cells;
      before += joined(cells, " ") + " ";
      Columns columns = columns_from(std::move(cells));
      if (!columns.has_colour()) continue;
      if (!columns.clash.empty()) return two_columns(name, csv->records[i].line, columns);
      return Header{separator, i, std::move(columns), csv->records[i].line, std::move(before)};
    }
  }
  if (seen.empty() && trouble) return *trouble;
  return no_lab(name, 1, seen);
}

/// True when no colour of the table has a point, so that a comma can only be a decimal one.
bool commas_are_decimal(const Grid& grid) {
  std::vector<std::size_t> numbers = grid.columns.all(ColumnRole::spectral);
  for (const ColumnRole role :
       {ColumnRole::L, ColumnRole::a, ColumnRole::b, ColumnRole::X, ColumnRole::Y, ColumnRole::Z}) {
    if (const auto column = grid.columns.at(role)) numbers.push_back(*column);
  }
  for (std::size_t row = 0; row < grid.rows; ++row) {
    for (const std::size_t column : numbers) {
      if (grid.text(row, column).find('.') != std::string::npos) return false;
    }
  }
  return true;
}

}  // namespace

Result<Import> read_csv_import(const std::string& text, const std::string& name,
                               const ImportOptions& options) {
  auto header = find_header(text, name);
  if (!header) return header.error();
  const auto csv = parse_csv(text, header->separator, 0, name);
  if (!csv) return csv.error();
  Grid grid;
  grid.columns = std::move(header->columns);
  if (!grid.columns.at(ColumnRole::name)) {
    return Error{ErrorKind::bad_input, "no column for the name", name + ":" + std::to_string(header->line),
                 "call one \"name\""};
  }
  const std::size_t first = header->record + 1;
  grid.rows = csv->records.size() - first;
  grid.text = [&](std::size_t row, std::size_t column) {
    return csv->text(csv->records[first + row], column);
  };
  grid.line = [&](std::size_t row) { return std::size_t{csv->records[first + row].line}; };
  grid.too_long = [&](std::size_t row) {
    const CsvRecord& record = csv->records[first + row];
    for (std::size_t i = grid.columns.names.size(); i < record.count; ++i) {
      if (!trimmed(csv->text(record, i)).empty()) return true;
    }
    return false;
  };
  if (header->record > 0) {
    grid.facts.white = white_in_text(header->before).value_or("");
    grid.facts.condition = condition_in_text(header->before);
  }
  grid.guarded = true;
  grid.comma_allowed = commas_are_decimal(grid);
  Import import;
  if (auto fault = read_rows(grid, options, import)) {
    fault->where = name + ":" + std::to_string(header->line);
    return std::move(*fault);
  }
  if (grid.rows == 0)
    return Error{ErrorKind::bad_input, "no rows under the header", name + ":" + std::to_string(header->line),
                 "is the file cut short?"};
  return import;
}

}  // namespace kithue
