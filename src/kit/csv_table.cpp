// SPDX-License-Identifier: MIT
#include "kit/csv_table.h"

#include <algorithm>

#include "base/text.h"
#include "swatch/csv.h"
#include "swatch/export.h"

namespace kithue {
namespace {

constexpr std::size_t kNoColumn = static_cast<std::size_t>(-1);

std::vector<std::size_t> places_of(const Csv& csv, const std::vector<std::string>& columns) {
  std::vector<std::size_t> places(columns.size(), kNoColumn);
  if (csv.records.empty()) return places;
  const CsvRecord& header = csv.records.front();
  for (std::size_t i = 0; i < header.count; ++i) {
    const auto at = std::find(columns.begin(), columns.end(), folded(csv.text(header, i)));
    if (at != columns.end()) places[static_cast<std::size_t>(at - columns.begin())] = i;
  }
  return places;
}

}  // namespace

std::string csv_cell(std::string_view text) {
  std::string cell = "\"";
  for (const char letter : with_guard(text)) {
    if (letter == '"') cell += '"';
    cell += letter;
  }
  return cell + "\"";
}

Result<std::vector<CsvLine>> csv_lines(std::string_view text, const std::vector<std::string>& columns,
                                       const std::string& name) {
  const auto utf8 = utf8_from(std::string(text), name);
  if (!utf8) return utf8.error();
  for (const char separator : {',', ';', '\t'}) {
    const auto csv = parse_csv(*utf8, separator, 0, name);
    if (!csv) return csv.error();
    const std::vector<std::size_t> places = places_of(*csv, columns);
    if (std::find(places.begin(), places.end(), kNoColumn) != places.end()) continue;
    std::vector<CsvLine> lines;
    for (std::size_t r = 1; r < csv->records.size(); ++r) {
      const CsvRecord& record = csv->records[r];
      CsvLine line{name + ":" + std::to_string(record.line), {}};
      for (const std::size_t place : places)
        line.cells.push_back(place < record.count ? without_guard(csv->text(record, place)) : "");
      lines.push_back(std::move(line));
    }
    return lines;
  }
  return Error{ErrorKind::bad_input, "the first line does not name the columns " + joined(columns, ", "),
               name + ":1", "is this the right file?"};
}

}  // namespace kithue
