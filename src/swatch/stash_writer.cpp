// SPDX-License-Identifier: MIT
#include <algorithm>
#include <unordered_map>

#include "base/checksum.h"
#include "base/text.h"
#include "swatch/stash_columns.h"
#include "swatch/stash_file.h"

namespace kithue {
namespace {

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

}  // namespace

std::string stash_text(const Stash& stash) {
  Writer out;
  write_swatches(out, stash);
  write_readings(out, stash);
  std::string text = out.text();
  text += std::string(kTrailer) + checksum(text) + "\n";
  return text;
}

}  // namespace kithue
