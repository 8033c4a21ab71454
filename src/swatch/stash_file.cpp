// SPDX-License-Identifier: MIT
#include "swatch/stash_file.h"

#include <algorithm>
#include <array>
#include <unordered_map>

#include "base/checksum.h"
#include "base/text.h"
#include "swatch/cgats.h"
#include "swatch/stash_columns.h"

namespace kithue {
namespace {

/// Rows of one table by the names of its columns.
class Rows {
 public:
  Rows(const Cgats& file, const CgatsTable& table, const std::string& name)
      : file_(file), table_(table), name_(name) {}

  [[nodiscard]] Error fault(std::size_t row, const std::string& what) const {
    return {ErrorKind::bad_input, what, name_ + ":" + std::to_string(table_.row_lines[row]), ""};
  }
  [[nodiscard]] const CgatsCell& at(std::size_t row, std::size_t column) const {
    return table_.cells[row * table_.fields.size() + column];
  }
  [[nodiscard]] std::string text(std::size_t row, std::size_t column) const {
    return unescaped_text(file_.raw(at(row, column)));
  }
  [[nodiscard]] std::string_view raw(std::size_t row, std::size_t column) const {
    return file_.raw(at(row, column));
  }
  [[nodiscard]] std::optional<double> number(std::size_t row, std::size_t column) const {
    return parse_number(raw(row, column));
  }
  /// Columns of these names, all of them, or the name of one that is missing.
  template <typename Names>
  Result<std::vector<std::size_t>> columns(const Names& names) const {
    std::vector<std::size_t> found;
    for (const auto& name : names) {
      const auto column = table_.column(name);
      if (!column) {
        return Error{ErrorKind::bad_input, "the column " + std::string(name) + " is missing", name_, ""};
      }
      found.push_back(*column);
    }
    return found;
  }
  [[nodiscard]] const CgatsTable& table() const { return table_; }

 private:
  const Cgats& file_;
  const CgatsTable& table_;
  const std::string& name_;
};

std::optional<bool> yes_or_no(std::string_view word) {
  if (word == "yes") return true;
  if (word == "no") return false;
  return std::nullopt;
}

MaybeError read_swatches(const Rows& rows, Stash& stash) {
  // The Lab of this table is for other readers: it follows from the readings.
  constexpr std::array<std::string_view, 13> kNames{
      "SAMPLE_ID",      "SAMPLE_NAME",     "SWATCH_KIND",  "SWATCH_METHOD", "SWATCH_SURFACE", "SWATCH_FINISH",
      "SWATCH_RETIRED", "SWATCH_IN_STOCK", "SWATCH_BATCH", "SWATCH_NOTE",   "LAB_L",          "LAB_A",
      "LAB_B"};
  const auto found = rows.columns(kNames);
  if (!found) return found.error();
  const std::vector<std::size_t>& at = *found;
  stash.swatches.reserve(rows.table().rows());
  for (std::size_t row = 0; row < rows.table().rows(); ++row) {
    Swatch swatch;
    const auto id = parse_whole(rows.raw(row, at[0]));
    const int before = stash.swatches.empty() ? 0 : stash.swatches.back().id;
    if (!id || *id <= before || *id >= stash.next_id)
      return rows.fault(row, "this SAMPLE_ID cannot be right");
    swatch.id = static_cast<int>(*id);
    swatch.name = rows.text(row, at[1]);
    const auto kind = kind_from(rows.raw(row, at[2]));
    const auto retired = yes_or_no(rows.raw(row, at[6]));
    const auto in_stock = yes_or_no(rows.raw(row, at[7]));
    const std::string_view finish = rows.raw(row, at[5]);
    if (swatch.name.empty() || !kind || !retired || !in_stock ||
        (finish != "plain" && finish != "unmeasurable"))
      return rows.fault(row, "a value of this swatch is not one of those allowed");
    swatch.kind = *kind;
    swatch.method = rows.text(row, at[3]);
    swatch.surface = rows.text(row, at[4]);
    swatch.finish = finish == "plain" ? Finish::plain : Finish::unmeasurable;
    swatch.retired = *retired;
    swatch.in_stock = *in_stock;
    swatch.batch = rows.text(row, at[8]);
    swatch.note = rows.text(row, at[9]);
    stash.swatches.push_back(std::move(swatch));
  }
  return std::nullopt;
}

/// The spectrum of one row; its columns are looked up once a grid.
class SpectrumReader {
 public:
  explicit SpectrumReader(const Rows& rows) : rows_(rows) {
    for (std::size_t i = 0; i < rows.table().fields.size(); ++i) index_.emplace(rows.table().fields[i], i);
    if (const auto found = rows.columns(kSpectrumColumns)) {
      at_ = *found;
    }
  }

  bool read(std::size_t row, Reading& reading) {
    if (at_.empty() || rows_.raw(row, at_[2]) == kNone) return true;
    const auto start = rows_.number(row, at_[0]);
    const auto step = rows_.number(row, at_[1]);
    const auto bands = parse_whole(rows_.raw(row, at_[2]));
    if (!start || !step || !bands || *bands < 1 || *bands > static_cast<long long>(index_.size()))
      return false;
    reading.start_nm = *start;
    reading.step_nm = *step;
    const auto count = static_cast<std::size_t>(*bands);
    if (columns_.size() != count || *start != start_ || *step != step_) {
      columns_.clear();
      for (std::size_t i = 0; i < count; ++i) {
        const auto column = index_.find(wavelength_column(reading, i));
        if (column == index_.end()) return false;
        columns_.push_back(column->second);
      }
      start_ = *start;
      step_ = *step;
    }
    reading.spectrum.reserve(count);
    for (const std::size_t column : columns_) {
      const auto value = rows_.number(row, column);
      if (!value) return false;
      reading.spectrum.push_back(*value);
    }
    return true;
  }

 private:
  const Rows& rows_;
  std::unordered_map<std::string, std::size_t> index_;
  std::vector<std::size_t> at_;
  std::vector<std::size_t> columns_;
  double start_ = 0.0;
  double step_ = 0.0;
};

MaybeError read_readings(const Rows& rows, Stash& stash) {
  const auto place = rows.columns(std::array<std::string_view, 4>{"SAMPLE_ID", "LAB_L", "LAB_A", "LAB_B"});
  if (!place) return place.error();
  const auto texts = rows.columns(kReadingColumns);
  if (!texts) return texts.error();
  SpectrumReader spectra(rows);
  std::size_t owner = 0;
  for (std::size_t row = 0; row < rows.table().rows(); ++row) {
    const auto id = parse_whole(rows.raw(row, (*place)[0]));
    while (owner < stash.swatches.size() && id && stash.swatches[owner].id < *id) ++owner;
    if (!id || owner == stash.swatches.size() || stash.swatches[owner].id != *id)
      return rows.fault(row, "a reading of no swatch, or out of order");
    Reading reading;
    const auto L = rows.number(row, (*place)[1]);
    const auto a = rows.number(row, (*place)[2]);
    const auto b = rows.number(row, (*place)[3]);
    const auto dryness = dryness_from(rows.raw(row, (*texts)[6]));
    const auto error = rows.number(row, (*texts)[9]);
    if (!L || !a || !b || !dryness || !error || !spectra.read(row, reading))
      return rows.fault(row, "a number of this reading is missing or wrong");
    reading.lab = {*L, *a, *b};
    const std::array<std::string*, 6> first{&reading.white, &reading.adapted, &reading.source,
                                            &reading.date,  &reading.batch,   &reading.surface};
    for (std::size_t i = 0; i < first.size(); ++i) *first[i] = rows.text(row, (*texts)[i]);
    reading.dryness = *dryness;
    reading.condition = rows.text(row, (*texts)[7]);
    reading.note = rows.text(row, (*texts)[8]);
    reading.error_de00 = *error;
    stash.swatches[owner].readings.push_back(std::move(reading));
  }
  return std::nullopt;
}

Result<Stash> read_tables(std::string_view bytes, const std::string& name) {
  const auto file = parse_cgats(std::string(bytes), name);
  if (!file) return file.error();
  if (!file->problems.empty()) {
    const CgatsProblem& first = file->problems.front();
    return Error{ErrorKind::bad_input, first.what, name + ":" + std::to_string(first.line), first.advice};
  }
  const CgatsTable& swatches = file->tables.front();
  const std::string* version = swatches.keyword("KITHUE_STASH_VERSION");
  const auto number = version != nullptr ? parse_whole(*version) : std::nullopt;
  if (!number) return Error{ErrorKind::bad_input, "not a stash of this program", name, ""};
  if (*number > kStashVersion) {
    return Error{ErrorKind::too_new,
                 "written by a later kithue (stash version " + std::to_string(*number) + "; this one reads " +
                     std::to_string(kStashVersion) + ")",
                 name, "install the newer kithue; nothing was changed"};
  }
  const std::string* next = swatches.keyword("KITHUE_NEXT_ID");
  const long long next_id = next != nullptr ? parse_whole(*next).value_or(0) : 0;
  if (file->tables.size() != 2 || next_id < 1 || next_id > 2'000'000'000)
    return Error{ErrorKind::bad_input, "the two tables of a stash are not there", name, ""};
  Stash stash;
  stash.next_id = static_cast<int>(next_id);
  if (auto fault = read_swatches(Rows(*file, swatches, name), stash)) return std::move(*fault);
  if (auto fault = read_readings(Rows(*file, file->tables.back(), name), stash)) return std::move(*fault);
  return stash;
}

}  // namespace

bool is_stash_text(std::string_view bytes) {
  return bytes.substr(0, 4096).find("\nKITHUE_STASH_VERSION ") != std::string_view::npos;
}

Result<Stash> parse_stash(std::string_view bytes, const std::string& name) {
  const std::size_t trailer = kTrailer.size() + kChecksumDigits + 1;
  const auto damaged = [&](std::string what) { return Error{ErrorKind::damaged, std::move(what), name, ""}; };
  if (bytes.empty()) return damaged("the stash is damaged: the file is empty");
  if (bytes.size() < trailer) return damaged("the stash is damaged: the end is missing");
  const std::string_view body = bytes.substr(0, bytes.size() - trailer);
  const std::string_view last = bytes.substr(body.size());
  if (!last.starts_with(kTrailer) || last.back() != '\n')
    return damaged("the stash is damaged: the checksum line at the end is missing");
  if (last.substr(kTrailer.size(), kChecksumDigits) != checksum(body))
    return damaged("the stash is damaged: its checksum does not fit");
  auto stash = read_tables(bytes, name);
  if (!stash && stash.error().kind != ErrorKind::too_new) {
    return Error{ErrorKind::damaged, "the stash is damaged: " + stash.error().what, stash.error().where, ""};
  }
  return stash;
}

Result<Stash> parse_edited_stash(std::string_view bytes, const std::string& name) {
  return read_tables(bytes, name);
}

}  // namespace kithue
