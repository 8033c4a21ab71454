// SPDX-License-Identifier: MIT
#include <algorithm>
#include <optional>
#include <utility>

#include "base/text.h"
#include "colour/difference.h"
#include "colour/spectrum.h"
#include "colour/white.h"
#include "swatch/day.h"
#include "swatch/edit.h"
#include "swatch/export.h"
#include "swatch/import_grid.h"
#include "swatch/import_tally.h"

namespace kithue {
namespace {

/// A Lab and a spectrum of one row further apart than this are pointed out. Ours, no source.
constexpr double kDisagreeDe00 = 1.0;

/// One row being understood: the first fault found is kept.
class RowReader {
 public:
  RowReader(const Grid& grid, const ImportOptions& options, std::size_t row, Tally& tally)
      : grid_(grid), options_(options), row_(row), tally_(tally) {}

  std::optional<ImportRow> read() {
    ImportRow made;
    made.line = grid_.line(row_);
    if (grid_.too_long(row_)) reject(ColumnRole::other, "", "more values than columns");
    read_swatch(made.swatch);
    if (!rejected_) read_reading(made);
    if (rejected_) return std::nullopt;
    return made;
  }
  [[nodiscard]] Rejection rejection() const { return *rejected_; }

 private:
  void reject(ColumnRole role, std::string value, std::string reason) {
    if (rejected_) return;
    const auto column = role == ColumnRole::other ? std::nullopt : grid_.columns.at(role);
    rejected_ = Rejection{grid_.line(row_), column ? grid_.columns.names[*column] : "", std::move(value),
                          std::move(reason)};
  }
  void reject(ColumnRole role, std::string value, const Error& error) {
    reject(role, std::move(value), error.what + (error.advice.empty() ? "" : " (" + error.advice + ")"));
  }

  [[nodiscard]] std::string cell(ColumnRole role) const {
    const auto column = grid_.columns.at(role);
    return column ? grid_.text(row_, *column) : std::string();
  }
  [[nodiscard]] std::string unguarded(const std::string& text) const {
    return grid_.guarded ? without_guard(text) : text;
  }
  std::string text(ColumnRole role, std::string_view what, const std::string& fallback = {}) {
    std::string given = unguarded(cell(role));
    if (trimmed(given).empty()) return fallback;
    auto checked = valid_text(given, what);
    if (checked) return *checked;
    reject(role, given, checked.error());
    return {};
  }
  bool yes(ColumnRole role, bool fallback) {
    const std::string word = folded(cell(role));
    if (word.empty()) return fallback;
    if (word == "yes" || word == "no") return word == "yes";
    reject(role, word, "yes or no expected");
    return fallback;
  }

  void read_swatch(Swatch& swatch) {
    const std::string given = unguarded(cell(ColumnRole::name));
    const auto name = valid_name(given);
    if (!name) return reject(ColumnRole::name, given, name.error());
    swatch.name = *name;
    const std::string kind_word = folded(cell(ColumnRole::kind));
    const auto kind = kind_word.empty() ? options_.kind : kind_from(kind_word);
    if (!kind) {
      return reject(ColumnRole::kind, kind_word,
                    kind_word.empty() ? "no kind: add --kind stock, ink or other, or a column \"kind\""
                                      : "stock, ink or other expected");
    }
    swatch.kind = *kind;
    swatch.method = text(ColumnRole::method, "method", swatch.kind == Kind::ink ? options_.method : "");
    const std::string finish = folded(cell(ColumnRole::finish));
    swatch.finish = finish.empty() || finish == "plain" ? Finish::plain : Finish::unmeasurable;
    swatch.retired = yes(ColumnRole::retired, false);
    swatch.in_stock = yes(ColumnRole::in_stock, true);
    if (!grid_.columns.own()) return;
    swatch.surface = text(ColumnRole::swatch_surface, "surface");
    swatch.batch = text(ColumnRole::shelf_batch, "batch");
    swatch.note = text(ColumnRole::swatch_note, "note");
    const auto id = parse_whole(cell(ColumnRole::swatch_id));
    if (!id || *id < 1 || *id > 1'000'000'000)
      return reject(ColumnRole::swatch_id, cell(ColumnRole::swatch_id), "not an id");
    swatch.id = static_cast<int>(*id);
  }

  std::optional<double> number(ColumnRole role) {
    const std::string given = cell(role);
    const auto value = loose_number(given, grid_.comma_allowed);
    if (!value) {
      reject(role, given,
             trimmed(given).empty()     ? "no number"
             : has_decimal_comma(given) ? "a decimal comma where the file has points elsewhere"
                                        : "not a number");
    }
    return value;
  }

  std::string white() {
    if (std::string word = cell(ColumnRole::white); !trimmed(word).empty()) return word;
    std::string illuminant(trimmed(cell(ColumnRole::illuminant)));
    const std::string observer(trimmed(cell(ColumnRole::observer)));
    if (!illuminant.empty()) {
      if (illuminant.find('/') != std::string::npos) return illuminant;
      if (!observer.empty()) return illuminant + "/" + std::to_string(observer.starts_with("10") ? 10 : 2);
    }
    if (!grid_.columns.white.empty()) return grid_.columns.white;
    return !grid_.facts.white.empty() ? grid_.facts.white : options_.white;
  }

  [[nodiscard]] bool is_empty(std::initializer_list<ColumnRole> roles) const {
    return std::all_of(roles.begin(), roles.end(),
                       [&](ColumnRole role) { return trimmed(cell(role)).empty(); });
  }

  void read_reading(ImportRow& made) {
    const bool no_lab = is_empty({ColumnRole::L, ColumnRole::a, ColumnRole::b});
    const bool nothing = no_lab && is_empty({ColumnRole::X, ColumnRole::Y, ColumnRole::Z}) && !has_spectrum();
    if (nothing && (made.swatch.finish == Finish::unmeasurable || grid_.columns.own())) return;
    Reading reading = grid_.columns.own() ? own_reading() : foreign_reading(no_lab);
    if (rejected_) return;
    read_facts(reading);
    if (grid_.columns.own()) {
      read_own_spectrum(reading);
    } else {
      made.swatch.surface = reading.surface;
      made.swatch.batch = reading.batch;
    }
    made.reading = std::move(reading);
  }

  [[nodiscard]] bool has_spectrum() const {
    return std::any_of(grid_.spectra.columns.begin(), grid_.spectra.columns.end(),
                       [&](std::size_t column) { return !trimmed(grid_.text(row_, column)).empty(); });
  }

  /// What counts is the spectrum, unless the file gives Lab under D50/2 itself; else Lab, else XYZ.
  Reading foreign_reading(bool no_lab) {
    if (!has_spectrum()) return no_lab && grid_.columns.has_xyz() ? xyz_reading() : lab_reading();
    Reading reading = spectral_reading();
    if (rejected_ || no_lab || white().empty()) return reading;
    const Reading stated = lab_reading();
    if (rejected_) return reading;
    if (ciede2000(stated.lab, reading.lab) > kDisagreeDe00 && stated.adapted.empty()) {
      if (tally_.disagree++ == 0) tally_.first_disagreeing = grid_.line(row_);
    }
    reading.white = stated.white;
    if (stated.adapted.empty()) {
      reading.lab = stated.lab;
      reading.adapted.clear();
    }
    return reading;
  }

  Reading lab_reading() {
    const auto L = number(ColumnRole::L);
    const auto a = number(ColumnRole::a);
    const auto b = number(ColumnRole::b);
    return rejected_ ? Reading{} : reading_given({*L, *a, *b}, ColumnRole::L);
  }

  Reading xyz_reading() {
    const auto X = number(ColumnRole::X);
    const auto Y = number(ColumnRole::Y);
    const auto Z = number(ColumnRole::Z);
    const auto white = find_white(this->white());
    if (rejected_ || !white) return rejected_ ? Reading{} : reading_given({}, ColumnRole::Y);
    const double whole = grid_.xyz_white;
    return reading_given(lab_from_xyz({*X / whole, *Y / whole, *Z / whole}, white->xyz), ColumnRole::Y);
  }

  Reading spectral_reading() {
    Reading reading;
    reading.start_nm = grid_.spectra.start_nm;
    reading.step_nm = grid_.spectra.step_nm;
    for (const std::size_t column : grid_.spectra.columns) {
      const std::string given = grid_.text(row_, column);
      const auto value = loose_number(given, grid_.comma_allowed);
      const double factor = value ? *value / grid_.spectra.whole : 0.0;
      if (!value || factor < -0.05 || factor > kMostFactor) {
        if (!rejected_) {
          rejected_ = Rejection{grid_.line(row_), grid_.columns.names[column], given,
                                trimmed(given).empty() ? "a value of the spectrum is missing"
                                : !value               ? "not a number"
                                                       : "not a reflectance: 0 to 1, or 0 to 100 %"};
        }
        return {};
      }
      reading.spectrum.push_back(factor);
    }
    integrate(reading);
    if (const auto fault = check_lab(reading.lab)) reject(ColumnRole::spectral, "", *fault);
    return reading;
  }

  /// Lab under the white of the file, the row or the options.
  Reading reading_given(const Lab& lab, ColumnRole role) {
    const std::string name = white();
    if (name.empty()) {
      reject(ColumnRole::other, "", "no white stated: add --white D50/2 (or D65/10), or a column \"white\"");
      return {};
    }
    auto reading = reading_under(lab, name);
    if (reading) return std::move(*reading);
    const bool about_lab = check_lab(lab).has_value();
    reject(about_lab ? role : ColumnRole::white,
           about_lab ? exact_number(lab.L) + " " + exact_number(lab.a) + " " + exact_number(lab.b) : name,
           reading.error());
    return {};
  }

  Reading own_reading() {
    const auto L = number(ColumnRole::L);
    const auto a = number(ColumnRole::a);
    const auto b = number(ColumnRole::b);
    if (rejected_) return {};
    const Lab lab{*L, *a, *b};
    if (const auto fault = check_lab(lab)) reject(ColumnRole::L, cell(ColumnRole::L), *fault);
    Reading reading;
    reading.lab = lab;
    reading.white = text(ColumnRole::white, "white");
    reading.adapted = text(ColumnRole::adapted, "adaptation");
    return reading;
  }

  void read_facts(Reading& reading) {
    const bool own = grid_.columns.own();
    const std::string& instrument = options_.source.empty() ? grid_.facts.source : options_.source;
    reading.source = text(ColumnRole::source, "source", own ? "" : instrument);
    reading.batch = text(ColumnRole::batch, "batch", own ? "" : options_.batch);
    reading.surface = text(ColumnRole::surface, "surface");
    reading.condition = own ? text(ColumnRole::condition, "condition") : condition();
    reading.note = text(ColumnRole::note, "note");
    read_date(reading);
    const std::string wetness = folded(cell(ColumnRole::dryness));
    const auto dryness = dryness_from(wetness.empty() && !own ? word_for(options_.dryness) : wetness);
    if (!dryness) reject(ColumnRole::dryness, cell(ColumnRole::dryness), "dry or wet expected");
    reading.dryness = dryness.value_or(Dryness::unknown);
    if (!trimmed(cell(ColumnRole::error)).empty())
      reading.error_de00 = number(ColumnRole::error).value_or(0.0);
    if (reading.error_de00 < 0.0)
      reject(ColumnRole::error, cell(ColumnRole::error), "an error cannot be negative");
    for (std::size_t i = 0; i < grid_.columns.roles.size(); ++i) {
      if (grid_.columns.roles[i] == ColumnRole::other)
        append_note(reading, grid_.columns.names[i], unguarded(grid_.text(row_, i)));
    }
    if (!rejected_) {
      if (const auto note = valid_text(reading.note, "note"); !note)
        reject(ColumnRole::note, "", note.error());
    }
  }

  /// The measurement condition as the row says it, else as the file does.
  std::string condition() {
    std::vector<std::string> parts;
    for (const ColumnRole role : {ColumnRole::condition, ColumnRole::backing, ColumnRole::geometry}) {
      std::string part = text(role, "condition");
      if (role == ColumnRole::backing && !part.empty() && folded(part).find("backing") == std::string::npos)
        part += " backing";
      if (!part.empty()) parts.push_back(std::move(part));
    }
    return parts.empty() ? grid_.facts.condition : joined(parts, ", ");
  }

  void read_date(Reading& reading) {
    const std::string date(trimmed(cell(ColumnRole::date)));
    if (const auto day = valid_date(date)) {
      reading.date = *day;
    } else {
      reading.date = day_from(date);
      // A day that could be two is kept as it stands rather than guessed at.
      if (reading.date.empty())
        append_note(reading, grid_.columns.names[*grid_.columns.at(ColumnRole::date)], date);
    }
    if (date.empty() && !grid_.columns.own())
      reading.date = options_.date.empty() ? grid_.facts.date : options_.date;
  }

  static void append_note(Reading& reading, const std::string& name, const std::string& value) {
    const std::string_view kept = trimmed(value);
    if (kept.empty()) return;
    if (!reading.note.empty()) reading.note += "; ";
    reading.note += name + "=" + std::string(kept);
  }

  void read_own_spectrum(Reading& reading) {
    const auto bands = parse_whole(cell(ColumnRole::bands));
    if (!bands) return;
    const auto start = number(ColumnRole::start_nm);
    const auto step = number(ColumnRole::step_nm);
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
      if (!value) return reject(ColumnRole::bands, name, "a value of the spectrum is missing");
      reading.spectrum.push_back(*value);
    }
  }

  const Grid& grid_;
  const ImportOptions& options_;
  std::size_t row_;
  Tally& tally_;
  std::optional<Rejection> rejected_;
};

void tell_notes(const Grid& grid, Import& import) {
  std::vector<std::string> kept;
  for (std::size_t i = 0; i < grid.columns.roles.size(); ++i) {
    if (grid.columns.roles[i] == ColumnRole::other && !trimmed(grid.columns.names[i]).empty())
      kept.push_back("\"" + grid.columns.names[i] + "\"");
  }
  if (kept.size() > 5) kept.erase(kept.begin() + 5, kept.end());
  if (!kept.empty()) import.warnings.push_back("kept in the readings' notes: " + joined(kept, ", "));
}

}  // namespace

Error two_columns(const std::string& name, std::size_t line, const Columns& columns) {
  return {ErrorKind::bad_input, "two columns could be the same number: " + columns.clash,
          name + ":" + std::to_string(line), "rename or remove one of them"};
}

bool has_decimal_comma(std::string_view text) {
  return std::count(text.begin(), text.end(), ',') == 1 && text.find('.') == std::string_view::npos;
}

std::optional<double> loose_number(std::string_view text, bool comma_allowed) {
  std::string plain(trimmed(text));
  for (std::size_t at = 0; (at = plain.find("\xe2\x88\x92", at)) != std::string::npos;)
    plain.replace(at, 3, "-");
  while (plain.starts_with("\xc2\xa0")) plain.erase(0, 2);
  if (comma_allowed && has_decimal_comma(plain)) std::replace(plain.begin(), plain.end(), ',', '.');
  return parse_number(plain);
}

MaybeError read_rows(Grid& grid, const ImportOptions& options, Import& import) {
  if (auto fault = settle_scales(grid, import)) return fault;
  Tally tally;
  for (std::size_t row = 0; row < grid.rows; ++row) {
    RowReader reader(grid, options, row, tally);
    auto made = reader.read();
    if (!made) {
      import.rejected.push_back(reader.rejection());
      continue;
    }
    if (made->reading && !grid.columns.own()) tally.count(*made->reading);
    import.rows.push_back(std::move(*made));
  }
  if (!grid.columns.own()) tally.tell(import);
  tell_notes(grid, import);
  return std::nullopt;
}

}  // namespace kithue
