// SPDX-License-Identifier: MIT
#include "swatch/stash_file.h"

#include <algorithm>
#include <array>
#include <unordered_map>

#include "base/checksum.h"
#include "base/text.h"
#include "swatch/cgats.h"

namespace kithue {
namespace {

constexpr std::string_view kTrailer = "# checksum xxh3-128 ";
constexpr std::size_t kChecksumDigits = 32;
constexpr std::string_view kNone = "-";

constexpr std::array<std::string_view, 8> kSwatchColumns{"SWATCH_KIND",   "SWATCH_METHOD",  "SWATCH_SURFACE",
                                                         "SWATCH_FINISH", "SWATCH_RETIRED", "SWATCH_IN_STOCK",
                                                         "SWATCH_BATCH",  "SWATCH_NOTE"};
constexpr std::array<std::string_view, 10> kReadingColumns{
    "READING_WHITE",   "READING_ADAPTED", "READING_SOURCE",    "READING_DATE", "READING_BATCH",
    "READING_SURFACE", "READING_DRYNESS", "READING_CONDITION", "READING_NOTE", "READING_ERROR_DE00"};
constexpr std::array<std::string_view, 3> kSpectrumColumns{"READING_START_NM", "READING_STEP_NM",
                                                           "READING_BANDS"};

std::string wavelength_column(const Reading& reading, std::size_t band) {
  return "SPECTRAL_" + exact_number(reading.start_nm + static_cast<double>(band) * reading.step_nm);
}

class Writer {
 public:
  void word(std::string_view text) {
    if (!text_.empty() && text_.back() != '\n') text_ += ' ';
    text_ += text;
  }
  void number(double value) { word(exact_number(value)); }
  void quoted(std::string_view text) { word("\"" + escaped_text(text) + "\""); }
  void keyword(std::string_view name, std::string_view value, bool declared) {
    if (declared) {
      word("KEYWORD");
      quoted(name);
      end();
    }
    word(name);
    quoted(value);
    end();
  }
  void end() { text_ += '\n'; }
  [[nodiscard]] const std::string& text() const { return text_; }
  void append(std::string_view text) { text_ += text; }

  void fields(const std::vector<std::string>& names, std::size_t rows) {
    word("NUMBER_OF_FIELDS");
    number(static_cast<double>(names.size()));
    end();
    append("BEGIN_DATA_FORMAT\n" + joined(names, " ") + "\nEND_DATA_FORMAT\nNUMBER_OF_SETS ");
    append(std::to_string(rows) + "\nBEGIN_DATA\n");
  }

 private:
  std::string text_;
};

template <std::size_t N>
void declare(Writer& out, const std::array<std::string_view, N>& columns, std::vector<std::string>& names) {
  for (const std::string_view column : columns) {
    out.word("KEYWORD");
    out.quoted(column);
    out.end();
    names.emplace_back(column);
  }
}

void write_swatch(Writer& out, const Swatch& swatch) {
  out.number(swatch.id);
  out.quoted(swatch.name);
  if (const auto lab = colour_of(swatch)) {
    out.number(lab->L);
    out.number(lab->a);
    out.number(lab->b);
  } else {
    for (int i = 0; i < 3; ++i) out.word(kNone);
  }
  out.quoted(word_for(swatch.kind));
  out.quoted(swatch.method);
  out.quoted(swatch.surface);
  out.quoted(swatch.finish == Finish::plain ? "plain" : "unmeasurable");
  out.quoted(swatch.retired ? "yes" : "no");
  out.quoted(swatch.in_stock ? "yes" : "no");
  out.quoted(swatch.batch);
  out.quoted(swatch.note);
  out.end();
}

void write_swatches(Writer& out, const Stash& stash) {
  out.append("CGATS.17\n");
  out.keyword("ORIGINATOR", "kithue", false);
  out.keyword("DESCRIPTOR", "stash: a row a swatch, then a row a reading", false);
  out.keyword("KITHUE_STASH_VERSION", std::to_string(kStashVersion), true);
  out.keyword("KITHUE_NEXT_ID", std::to_string(stash.next_id), true);
  out.keyword("WEIGHTING_FUNCTION", "ILLUMINANT, D50; OBSERVER, 2 degree", false);
  out.append("# in quoted text \\u0022 is a double quote, \\\\ a backslash, \\n a line end\n");
  std::vector<std::string> names{"SAMPLE_ID", "SAMPLE_NAME", "LAB_L", "LAB_A", "LAB_B"};
  declare(out, kSwatchColumns, names);
  out.fields(names, stash.swatches.size());
  for (const Swatch& swatch : stash.swatches) write_swatch(out, swatch);
  out.append("END_DATA\n");
}

/// Wavelengths of all spectra, each once, in the order they come.
struct Wavelengths {
  std::vector<std::string> names;
  std::unordered_map<std::string, std::size_t> index;
};

Wavelengths wavelengths_of(const Stash& stash) {
  Wavelengths all;
  const Reading* before = nullptr;
  for (const Swatch& swatch : stash.swatches) {
    for (const Reading& reading : swatch.readings) {
      if (before != nullptr && before->start_nm == reading.start_nm && before->step_nm == reading.step_nm &&
          before->spectrum.size() >= reading.spectrum.size())
        continue;
      for (std::size_t i = 0; i < reading.spectrum.size(); ++i) {
        std::string name = wavelength_column(reading, i);
        if (all.index.emplace(name, all.names.size()).second) all.names.push_back(std::move(name));
      }
      if (!reading.spectrum.empty()) before = &reading;
    }
  }
  return all;
}

void write_spectrum(Writer& out, const Reading& reading, const Wavelengths& all) {
  if (reading.spectrum.empty()) {
    for (std::size_t i = 0; i < kSpectrumColumns.size() + all.names.size(); ++i) out.word(kNone);
    return;
  }
  out.number(reading.start_nm);
  out.number(reading.step_nm);
  out.number(static_cast<double>(reading.spectrum.size()));
  std::vector<const double*> values(all.names.size(), nullptr);
  for (std::size_t i = 0; i < reading.spectrum.size(); ++i)
    values[all.index.at(wavelength_column(reading, i))] = &reading.spectrum[i];
  for (const double* value : values) {
    if (value != nullptr) {
      out.number(*value);
    } else {
      out.word(kNone);
    }
  }
}

void write_reading(Writer& out, int id, const Reading& reading, const Wavelengths& all) {
  out.number(id);
  out.number(reading.lab.L);
  out.number(reading.lab.a);
  out.number(reading.lab.b);
  for (const std::string* text :
       {&reading.white, &reading.adapted, &reading.source, &reading.date, &reading.batch, &reading.surface})
    out.quoted(*text);
  out.quoted(word_for(reading.dryness));
  out.quoted(reading.condition);
  out.quoted(reading.note);
  out.number(reading.error_de00);
  if (!all.names.empty()) write_spectrum(out, reading, all);
  out.end();
}

void write_readings(Writer& out, const Stash& stash) {
  const Wavelengths all = wavelengths_of(stash);
  std::size_t rows = 0;
  for (const Swatch& swatch : stash.swatches) rows += swatch.readings.size();
  out.append("\nCGATS.17\n");
  out.keyword("DESCRIPTOR", "readings", false);
  std::vector<std::string> names{"SAMPLE_ID", "LAB_L", "LAB_A", "LAB_B"};
  declare(out, kReadingColumns, names);
  if (!all.names.empty()) {
    declare(out, kSpectrumColumns, names);
    names.insert(names.end(), all.names.begin(), all.names.end());
  }
  out.fields(names, rows);
  for (const Swatch& swatch : stash.swatches) {
    for (const Reading& reading : swatch.readings) write_reading(out, swatch.id, reading, all);
  }
  out.append("END_DATA\n");
}

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

int hex_value(char c) {
  if (c >= '0' && c <= '9') return c - '0';
  if (c >= 'a' && c <= 'f') return c - 'a' + 10;
  return -1;
}

}  // namespace

std::string escaped_text(std::string_view text) {
  constexpr char kHex[] = "0123456789abcdef";
  std::string safe;
  safe.reserve(text.size());
  for (const char c : text) {
    const auto byte = static_cast<unsigned char>(c);
    if (c == '\\') {
      safe += "\\\\";
    } else if (c == '\n') {
      safe += "\\n";
    } else if (c == '"' || byte < 0x20 || byte == 0x7f) {
      safe += "\\u00";
      safe += kHex[byte >> 4U];
      safe += kHex[byte & 15U];
    } else {
      safe += c;
    }
  }
  return safe;
}

std::string unescaped_text(std::string_view text) {
  if (text.find('\\') == std::string_view::npos) return std::string(text);
  std::string plain;
  plain.reserve(text.size());
  for (std::size_t i = 0; i < text.size(); ++i) {
    const std::string_view rest = text.substr(i);
    if (rest.starts_with("\\\\") || rest.starts_with("\\n")) {
      plain += rest[1] == 'n' ? '\n' : '\\';
      ++i;
    } else if (rest.size() >= 6 && rest.starts_with("\\u00") && hex_value(rest[4]) >= 0 &&
               hex_value(rest[4]) < 8 && hex_value(rest[5]) >= 0) {
      plain += static_cast<char>(hex_value(rest[4]) * 16 + hex_value(rest[5]));
      i += 5;
    } else {
      plain += text[i];
    }
  }
  return plain;
}

std::string stash_text(const Stash& stash) {
  Writer out;
  write_swatches(out, stash);
  write_readings(out, stash);
  std::string text = out.text();
  text += std::string(kTrailer) + checksum(text) + "\n";
  return text;
}

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
