// SPDX-License-Identifier: MIT
#include "swatch/import.h"

#include "base/text.h"
#include "swatch/cgats.h"
#include "swatch/csv.h"
#include "swatch/import_grid.h"
#include "swatch/stash_file.h"

namespace kithue {
namespace {

Result<Import> read_stash(std::string_view text, const std::string& name) {
  Import import;
  auto stash = parse_stash(text, name);
  if (!stash && stash.error().kind == ErrorKind::damaged) {
    const std::string why = stash.error().what;
    stash = parse_edited_stash(text, name);
    if (stash) import.warnings.push_back(why + "; every row could be read all the same");
  }
  if (!stash) return stash.error();
  import.next_id = stash->next_id;
  for (Swatch& swatch : stash->swatches) {
    std::vector<Reading> readings = std::move(swatch.readings);
    swatch.readings.clear();
    if (readings.empty()) import.rows.push_back({0, swatch, std::nullopt});
    for (Reading& reading : readings) import.rows.push_back({0, swatch, std::move(reading)});
  }
  return import;
}

}  // namespace

std::size_t Import::row_count() const {
  std::size_t count = rows.size();
  for (const Rejection& one : rejected) count += one.is_row ? 1 : 0;
  return count;
}

Result<Import> read_import(std::string bytes, const std::string& name, const ImportOptions& options) {
  auto text = utf8_from(std::move(bytes), name);
  if (!text) return text.error();
  if (trimmed(*text).empty())
    return Error{ErrorKind::bad_input, "the file is empty", name + ":1", "is it the right one?"};
  if (is_stash_text(*text)) return read_stash(*text, name);
  const bool own_csv = text->starts_with("swatch_id,");
  if (!own_csv && looks_like_cgats(*text)) return read_cgats_import(std::move(*text), name, options);
  return read_csv_import(*text, name, options);
}

}  // namespace kithue
