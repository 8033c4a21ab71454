// SPDX-License-Identifier: MIT
#include "swatch/import.h"

#include <algorithm>
#include <array>
#include <functional>
#include <unordered_map>

#include "base/text.h"
#include "swatch/cgats.h"
#include "swatch/csv.h"
#include "swatch/edit.h"
#include "swatch/export.h"
#include "swatch/import_columns.h"
#include "swatch/stash_file.h"

namespace kithue {
namespace {

constexpr std::size_t kHeaderSearch = 60;  // instruments print a few lines before the table

/// A table from either kind of file.
struct Grid {
  Columns columns;
  std::size_t rows = 0;
  std::function<std::string(std::size_t row, std::size_t column)> text;
  std::function<std::size_t(std::size_t row)> line;
  std::function<bool(std::size_t row)> too_long;
  std::string stated_white;    ///< by the file's header, or empty
  bool guarded = false;        ///< text cells may carry a spreadsheet guard
  bool comma_allowed = false;  ///< numbers may have a decimal comma
};

/// One row being understood: the first fault found is kept.
class RowReader {
 public:
  RowReader(const Grid& grid, const ImportOptions& options, std::size_t row)
      : grid_(grid), options_(options), row_(row) {}

  std::optional<ImportRow> read() {
    ImportRow made;
    made.line = grid_.line(row_);
    if (grid_.too_long(row_)) reject(Role::other, "", "more values than columns");
    read_swatch(made.swatch);
    if (!rejected_) read_reading(made);
    if (rejected_) return std::nullopt;
    return made;
  }
  [[nodiscard]] Rejection rejection() const { return *rejected_; }

 private:
  void reject(Role role, std::string value, std::string reason) {
    if (rejected_) return;
    const auto column = role == Role::other ? std::nullopt : grid_.columns.at(role);
    rejected_ = Rejection{grid_.line(row_), column ? grid_.columns.names[*column] : "", std::move(value),
                          std::move(reason)};
  }
  void reject(Role role, std::string value, const Error& error) {
    reject(role, std::move(value), error.what + (error.advice.empty() ? "" : " (" + error.advice + ")"));
  }

  [[nodiscard]] std::string cell(Role role) const {
    const auto column = grid_.columns.at(role);
    return column ? grid_.text(row_, *column) : std::string();
  }
  [[nodiscard]] std::string unguarded(const std::string& text) const {
    return grid_.guarded ? without_guard(text) : text;
  }
  std::string text(Role role, std::string_view what, const std::string& fallback = {}) {
    std::string given = unguarded(cell(role));
    if (trimmed(given).empty()) return fallback;
    auto checked = valid_text(given, what);
    if (checked) return *checked;
    reject(role, given, checked.error());
    return {};
  }
  bool yes(Role role, bool fallback) {
    const std::string word = folded(cell(role));
    if (word.empty()) return fallback;
    if (word == "yes" || word == "no") return word == "yes";
    reject(role, word, "yes or no expected");
    return fallback;
  }

  void read_swatch(Swatch& swatch) {
    const std::string given = unguarded(cell(Role::name));
    const auto name = valid_name(given);
    if (!name) return reject(Role::name, given, name.error());
    swatch.name = *name;
    const std::string kind_word = folded(cell(Role::kind));
    const auto kind = kind_word.empty() ? options_.kind : kind_from(kind_word);
    if (!kind) {
      return reject(Role::kind, kind_word,
                    kind_word.empty() ? "no kind: add --kind stock, ink or other, or a column \"kind\""
                                      : "stock, ink or other expected");
    }
    swatch.kind = *kind;
    swatch.method = text(Role::method, "method", swatch.kind == Kind::ink ? options_.method : "");
    const std::string finish = folded(cell(Role::finish));
    swatch.finish = finish.empty() || finish == "plain" ? Finish::plain : Finish::unmeasurable;
    swatch.retired = yes(Role::retired, false);
    swatch.in_stock = yes(Role::in_stock, true);
    if (!grid_.columns.own()) return;
    swatch.surface = text(Role::swatch_surface, "surface");
    swatch.batch = text(Role::shelf_batch, "batch");
    swatch.note = text(Role::swatch_note, "note");
    const auto id = parse_whole(cell(Role::swatch_id));
    if (!id || *id < 1 || *id > 1'000'000'000)
      return reject(Role::swatch_id, cell(Role::swatch_id), "not an id");
    swatch.id = static_cast<int>(*id);
  }

  std::optional<double> number(Role role) {
    const std::string given = cell(role);
    std::string plain(trimmed(given));
    for (std::size_t at = 0; (at = plain.find("\xe2\x88\x92", at)) != std::string::npos;)
      plain.replace(at, 3, "-");
    while (plain.starts_with("\xc2\xa0")) plain.erase(0, 2);
    const bool comma =
        std::count(plain.begin(), plain.end(), ',') == 1 && plain.find('.') == std::string::npos;
    if (comma && grid_.comma_allowed) std::replace(plain.begin(), plain.end(), ',', '.');
    const auto value = parse_number(plain);
    if (!value) {
      reject(role, given,
             plain.empty() ? "no number"
             : comma       ? "a decimal comma where the file has points elsewhere"
                           : "not a number");
    }
    return value;
  }

  std::string white() {
    if (std::string word = cell(Role::white); !trimmed(word).empty()) return word;
    std::string illuminant(trimmed(cell(Role::illuminant)));
    const std::string observer(trimmed(cell(Role::observer)));
    if (!illuminant.empty()) {
      if (illuminant.find('/') != std::string::npos) return illuminant;
      if (!observer.empty()) return illuminant + "/" + std::to_string(observer.starts_with("10") ? 10 : 2);
    }
    return !grid_.stated_white.empty() ? grid_.stated_white : options_.white;
  }

  void read_reading(ImportRow& made) {
    const bool empty =
        trimmed(cell(Role::L)).empty() && trimmed(cell(Role::a)).empty() && trimmed(cell(Role::b)).empty();
    if (empty && (made.swatch.finish == Finish::unmeasurable || grid_.columns.own())) return;
    const auto L = number(Role::L);
    const auto a = number(Role::a);
    const auto b = number(Role::b);
    if (rejected_) return;
    auto reading = grid_.columns.own() ? own_reading({*L, *a, *b}) : foreign_reading({*L, *a, *b});
    if (rejected_) return;
    read_facts(reading);
    if (grid_.columns.own()) {
      read_spectrum(reading);
    } else {
      made.swatch.surface = reading.surface;
      made.swatch.batch = reading.batch;
    }
    made.reading = std::move(reading);
  }

  Reading foreign_reading(const Lab& lab) {
    const std::string name = white();
    if (name.empty()) {
      reject(Role::other, "", "no white stated: add --white D50/2 (or D65/10), or a column \"white\"");
      return {};
    }
    auto reading = reading_under(lab, name);
    if (reading) return std::move(*reading);
    const bool about_lab = check_lab(lab).has_value();
    reject(about_lab ? Role::L : Role::white,
           about_lab ? exact_number(lab.L) + " " + exact_number(lab.a) + " " + exact_number(lab.b) : name,
           reading.error());
    return {};
  }

  Reading own_reading(const Lab& lab) {
    if (const auto fault = check_lab(lab)) reject(Role::L, cell(Role::L), *fault);
    Reading reading;
    reading.lab = lab;
    reading.white = text(Role::white, "white");
    reading.adapted = text(Role::adapted, "adaptation");
    return reading;
  }

  void read_facts(Reading& reading) {
    reading.source = text(Role::source, "source", grid_.columns.own() ? "" : options_.source);
    reading.batch = text(Role::batch, "batch", grid_.columns.own() ? "" : options_.batch);
    reading.surface = text(Role::surface, "surface");
    reading.condition = text(Role::condition, "condition");
    reading.note = text(Role::note, "note");
    const std::string date(trimmed(cell(Role::date)));
    if (const auto day = valid_date(date)) {
      reading.date = *day;
    } else {
      // A day written another way is kept as it stands rather than guessed at.
      append_note(reading, grid_.columns.names[*grid_.columns.at(Role::date)], date);
    }
    const auto dryness = dryness_from(folded(cell(Role::dryness)));
    if (!dryness) reject(Role::dryness, cell(Role::dryness), "dry or wet expected");
    reading.dryness = dryness.value_or(Dryness::unknown);
    if (!trimmed(cell(Role::error)).empty()) reading.error_de00 = number(Role::error).value_or(0.0);
    if (reading.error_de00 < 0.0) reject(Role::error, cell(Role::error), "an error cannot be negative");
    for (std::size_t i = 0; i < grid_.columns.roles.size(); ++i) {
      if (grid_.columns.roles[i] == Role::other)
        append_note(reading, grid_.columns.names[i], unguarded(grid_.text(row_, i)));
    }
    if (!rejected_) {
      if (const auto note = valid_text(reading.note, "note"); !note) reject(Role::note, "", note.error());
    }
  }

  static void append_note(Reading& reading, const std::string& name, const std::string& value) {
    const std::string_view kept = trimmed(value);
    if (kept.empty()) return;
    if (!reading.note.empty()) reading.note += "; ";
    reading.note += name + "=" + std::string(kept);
  }

  void read_spectrum(Reading& reading) {
    const auto bands = parse_whole(cell(Role::bands));
    if (!bands) return;
    const auto start = number(Role::start_nm);
    const auto step = number(Role::step_nm);
    if (rejected_) return;
    reading.start_nm = *start;
    reading.step_nm = *step;
    for (long long i = 0; i < *bands && !rejected_; ++i) {
      const std::string name = "nm" + exact_number(*start + static_cast<double>(i) * *step);
      const auto column = std::find(grid_.columns.names.begin(), grid_.columns.names.end(), name);
      const auto value = column == grid_.columns.names.end()
                             ? std::nullopt
                             : parse_number(grid_.text(
                                   row_, static_cast<std::size_t>(column - grid_.columns.names.begin())));
      if (!value) return reject(Role::bands, name, "a value of the spectrum is missing");
      reading.spectrum.push_back(*value);
    }
  }

  const Grid& grid_;
  const ImportOptions& options_;
  std::size_t row_;
  std::optional<Rejection> rejected_;
};

void read_rows(const Grid& grid, const ImportOptions& options, Import& import) {
  std::size_t adapted = 0;
  for (std::size_t row = 0; row < grid.rows; ++row) {
    RowReader reader(grid, options, row);
    if (auto made = reader.read()) {
      if (made->reading && !made->reading->adapted.empty() && !grid.columns.own()) ++adapted;
      import.rows.push_back(std::move(*made));
    } else {
      import.rejected.push_back(reader.rejection());
    }
  }
  if (adapted > 0) {
    import.warnings.push_back(
        counted(adapted, "reading") +
        " under another white adapted to D50, 2 degrees by Bradford; between observers this is "
        "an approximation");
  }
  std::vector<std::string> kept;
  bool spectral = false;
  for (std::size_t i = 0; i < grid.columns.roles.size(); ++i) {
    if (grid.columns.roles[i] == Role::other && !trimmed(grid.columns.names[i]).empty())
      kept.push_back("\"" + grid.columns.names[i] + "\"");
    spectral = spectral || grid.columns.roles[i] == Role::spectral;
  }
  if (kept.size() > 5) kept.erase(kept.begin() + 5, kept.end());
  if (!kept.empty()) import.warnings.push_back("kept in the readings' notes: " + joined(kept, ", "));
  if (spectral && !grid.columns.own())
    import.warnings.emplace_back("the spectra in this file were left out; its Lab was taken");
}

Error no_lab(const std::string& name, std::size_t line, const std::vector<std::string>& seen) {
  std::vector<std::string> shown(
      seen.begin(), seen.begin() + static_cast<std::ptrdiff_t>(std::min<std::size_t>(seen.size(), 8)));
  return {ErrorKind::bad_input,
          "no columns for L, a and b; found " + (shown.empty() ? "nothing" : joined(shown, ", ")),
          name + ":" + std::to_string(line),
          "the first line must name the columns, as in name,kind,white,L,a,b"};
}

Error two_labs(const std::string& name, std::size_t line, const Columns& columns) {
  return {ErrorKind::bad_input, "two columns could be the same number: " + columns.clash,
          name + ":" + std::to_string(line), "rename or remove one of them"};
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
      if (!columns.has_lab()) continue;
      if (!columns.clash.empty()) return two_labs(name, csv->records[i].line, columns);
      return Header{separator, i, std::move(columns), csv->records[i].line, std::move(before)};
    }
  }
  if (seen.empty() && trouble) return *trouble;
  return no_lab(name, 1, seen);
}

Result<Import> read_csv(const std::string& text, const std::string& name, const ImportOptions& options) {
  auto header = find_header(text, name);
  if (!header) return header.error();
  const auto csv = parse_csv(text, header->separator, 0, name);
  if (!csv) return csv.error();
  Grid grid;
  grid.columns = std::move(header->columns);
  if (!grid.columns.at(Role::name)) {
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
  if (header->record > 0) grid.stated_white = white_in_text(header->before).value_or("");
  grid.guarded = true;
  grid.comma_allowed = true;
  for (std::size_t row = 0; row < grid.rows && grid.comma_allowed; ++row) {
    for (const Role role : {Role::L, Role::a, Role::b})
      if (grid.text(row, *grid.columns.at(role)).find('.') != std::string::npos) grid.comma_allowed = false;
  }
  Import import;
  read_rows(grid, options, import);
  if (grid.rows == 0)
    return Error{ErrorKind::bad_input, "no rows under the header", name, "is the file cut short?"};
  return import;
}

std::string stated_white(const CgatsTable& table) {
  std::string text;
  for (const CgatsKeyword& keyword : table.keywords) {
    const std::string key = folded(keyword.name);
    constexpr std::array<std::string_view, 8> kTelling{
        "weighting_function", "illuminant",     "observer", "instrumentation",
        "illumination_name",  "observer_angle", "white",    "computational_parameter"};
    if (std::find(kTelling.begin(), kTelling.end(), key) == kTelling.end()) continue;
    text += (key.starts_with("illumin")    ? "illuminant "
             : key.starts_with("observer") ? "observer "
                                           : "") +
            keyword.value + " ; ";
  }
  return white_in_text(text).value_or("");
}

Result<Import> read_cgats(std::string text, const std::string& name, const ImportOptions& options) {
  const auto file = parse_cgats(std::move(text), name);
  if (!file) return file.error();
  Import import;
  import.warnings = file->repairs;
  for (const CgatsProblem& problem : file->problems) {
    import.rejected.push_back(
        {problem.line, "", "", problem.what + (problem.advice.empty() ? "" : " (" + problem.advice + ")")});
  }
  bool any = false;
  std::vector<std::string> seen;
  for (const CgatsTable& table : file->tables) {
    if (seen.empty()) seen = table.fields;
    Grid grid;
    grid.columns = columns_from(table.fields);
    if (!grid.columns.has_lab()) continue;
    if (!grid.columns.clash.empty())
      return two_labs(name, table.row_lines.empty() ? 1 : table.row_lines.front(), grid.columns);
    if (!grid.columns.at(Role::name))
      return Error{ErrorKind::bad_input, "no field for the name", name, "call one SAMPLE_NAME or SAMPLE_ID"};
    any = true;
    grid.rows = table.rows();
    grid.text = [&](std::size_t row, std::size_t column) {
      return file->text(table.cells[row * table.fields.size() + column]);
    };
    grid.line = [&](std::size_t row) { return std::size_t{table.row_lines[row]}; };
    grid.too_long = [](std::size_t) { return false; };
    grid.stated_white = stated_white(table);
    read_rows(grid, options, import);
  }
  if (!any) {
    return Error{ErrorKind::bad_input,
                 "no LAB_L, LAB_A and LAB_B; found " + joined(seen, ", ").substr(0, 200), name,
                 "export CIE L*a*b* values"};
  }
  std::stable_sort(import.rejected.begin(), import.rejected.end(),
                   [](const Rejection& x, const Rejection& y) { return x.line < y.line; });
  return import;
}

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

std::string identity_of(const Swatch& swatch) {
  return swatch.name + '\n' + std::string(word_for(swatch.kind)) + '\n' + swatch.method;
}

/// Equal exactly when the readings are.
std::string text_of(const Reading& reading) {
  std::string text;
  for (const double value :
       {reading.lab.L, reading.lab.a, reading.lab.b, reading.error_de00, reading.start_nm, reading.step_nm})
    text += exact_number(value) + ' ';
  for (const double value : reading.spectrum) text += exact_number(value) + ' ';
  for (const std::string* part : {&reading.white, &reading.adapted, &reading.source, &reading.date,
                                  &reading.batch, &reading.surface, &reading.condition, &reading.note})
    text += '\n' + escaped_text(*part);
  return text + '\n' + std::string(word_for(reading.dryness));
}

}  // namespace

Result<Import> read_import(std::string bytes, const std::string& name, const ImportOptions& options) {
  auto text = utf8_from(std::move(bytes), name);
  if (!text) return text.error();
  if (trimmed(*text).empty())
    return Error{ErrorKind::bad_input, "the file is empty", name, "is it the right one?"};
  if (is_stash_text(*text)) return read_stash(*text, name);
  const bool own_csv = text->starts_with("swatch_id,");
  if (!own_csv && looks_like_cgats(*text)) return read_cgats(std::move(*text), name, options);
  return read_csv(*text, name, options);
}

ImportCount merge_import(Stash& stash, const Import& import) {
  ImportCount count;
  std::unordered_map<std::string, std::size_t> places;
  for (std::size_t i = 0; i < stash.swatches.size(); ++i) places.emplace(identity_of(stash.swatches[i]), i);
  const std::size_t before = stash.swatches.size();
  // How often the stash held each reading that the file names, before this import.
  std::unordered_map<std::string, std::size_t> held;
  std::vector<bool> counted_already(before, false);
  for (const ImportRow& row : import.rows) {
    const auto [at, is_new] = places.emplace(identity_of(row.swatch), stash.swatches.size());
    if (is_new) {
      if (row.swatch.id >= stash.next_id) stash.next_id = row.swatch.id;
      append_swatch(stash, row.swatch);
      ++count.new_swatches;
    }
    Swatch& swatch = stash.swatches[at->second];
    if (!row.reading) {
      if (!is_new) ++count.already_there;
      continue;
    }
    if (at->second < before) {
      const std::string key_start = std::to_string(swatch.id) + '\n';
      if (!counted_already[at->second]) {
        for (const Reading& reading : swatch.readings) ++held[key_start + text_of(reading)];
        counted_already[at->second] = true;
      }
      const auto found = held.find(key_start + text_of(*row.reading));
      if (found != held.end() && found->second > 0) {
        --found->second;
        ++count.already_there;
        continue;
      }
    }
    swatch.readings.push_back(*row.reading);
    ++count.new_readings;
  }
  stash.next_id = std::max(stash.next_id, import.next_id);
  return count;
}

}  // namespace kithue
