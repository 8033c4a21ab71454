// SPDX-License-Identifier: MIT
#include <algorithm>
#include <utility>

#include "base/text.h"
#include "swatch/cgats.h"
#include "swatch/import_grid.h"

namespace kithue {
Result<Import> read_cgats_import(std::string text, const std::string& name, const ImportOptions& options) {
  const std::string first_line = text.substr(0, text.find_first_of("\r\n"));
  const auto file = parse_cgats(std::move(text), name);
  if (!file) return file.error();
  Import import;
  import.warnings = file->repairs;
  for (const CgatsProblem& problem : file->problems) {
    import.rejected.push_back({problem.line, "", "",
                               problem.what + (problem.advice.empty() ? "" : " (" + problem.advice + ")"),
                               problem.is_row});
  }
  bool any = false;
  std::string fields_at = name + ":1";
  std::string nameless_at;
  std::vector<std::string> seen;
  for (const CgatsTable& table : file->tables) {
    const std::string at = name + ":" + std::to_string(table.fields_line);
    if (seen.empty()) {
      seen = table.fields;
      fields_at = at;
    }
    Grid grid;
    grid.columns = columns_from(table.fields);
    if (!grid.columns.has_colour()) continue;
    grid.facts = facts_of(table, first_line);
    if (!grid.facts.not_surfaces.empty())
      return Error{ErrorKind::bad_input, grid.facts.not_surfaces, at, "is it the right file?"};
    if (!grid.facts.caution.empty()) import.warnings.push_back(grid.facts.caution);
    if (!grid.columns.clash.empty())
      return two_columns(name, table.row_lines.empty() ? 1 : table.row_lines.front(), grid.columns);
    if (!grid.columns.at(ColumnRole::name)) {
      nameless_at = at;
      continue;
    }
    any = true;
    grid.rows = table.rows();
    grid.text = [&](std::size_t row, std::size_t column) {
      return file->text(table.cells[row * table.fields.size() + column]);
    };
    grid.line = [&](std::size_t row) { return std::size_t{table.row_lines[row]}; };
    grid.too_long = [](std::size_t) { return false; };
    if (auto fault = read_rows(grid, options, import)) {
      fault->where = at;
      return std::move(*fault);
    }
  }
  if (!any && !nameless_at.empty())
    return Error{ErrorKind::bad_input, "no field for the name", nameless_at,
                 "call one SAMPLE_NAME or SAMPLE_ID"};
  if (!any) {
    return Error{
        ErrorKind::bad_input,
        "no LAB_L, LAB_A and LAB_B, no XYZ and no spectra; found " + joined(seen, ", ").substr(0, 200),
        fields_at, "export CIE L*a*b* values or spectra"};
  }
  std::stable_sort(import.rejected.begin(), import.rejected.end(),
                   [](const Rejection& x, const Rejection& y) { return x.line < y.line; });
  return import;
}

}  // namespace kithue
