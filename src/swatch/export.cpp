// SPDX-License-Identifier: MIT
#include "swatch/export.h"

#include <algorithm>
#include <array>
#include <unordered_map>
#include <vector>

#include "base/text.h"

namespace kithue {
namespace {

constexpr std::array<std::string_view, 11> kDangerous{"=",  "+",  "-",  "@",  "\t", "\r",
                                                      "＝", "＋", "－", "＠", "'"};

bool is_dangerous(std::string_view text) {
  return std::any_of(kDangerous.begin(), kDangerous.end(),
                     [&](std::string_view start) { return text.starts_with(start); });
}

class CsvLine {
 public:
  explicit CsvLine(std::string& out) : out_(out) {}
  void text(std::string_view value) {
    comma();
    out_ += '"';
    for (const char c : with_guard(value)) {
      out_ += c;
      if (c == '"') out_ += '"';
    }
    out_ += '"';
  }
  void number(double value) {
    comma();
    out_ += exact_number(value);
  }
  void empty() { comma(); }
  void end() { out_ += "\r\n"; }

 private:
  void comma() {
    if (!first_) out_ += ',';
    first_ = false;
  }
  std::string& out_;
  bool first_ = true;
};

std::string wavelength(const Reading& reading, std::size_t band) {
  return "nm" + exact_number(reading.start_nm + static_cast<double>(band) * reading.step_nm);
}

struct CsvWavelengths {
  std::vector<std::string> names;
  std::unordered_map<std::string, std::size_t> index;
};

CsvWavelengths csv_wavelengths_of(const Stash& stash) {
  CsvWavelengths all;
  for (const Swatch& swatch : stash.swatches) {
    for (const Reading& reading : swatch.readings) {
      for (std::size_t i = 0; i < reading.spectrum.size(); ++i) {
        if (all.index.emplace(wavelength(reading, i), all.names.size()).second)
          all.names.push_back(wavelength(reading, i));
      }
    }
  }
  return all;
}

void write_swatch(CsvLine& line, const Swatch& swatch) {
  line.number(swatch.id);
  line.text(swatch.name);
  line.text(word_for(swatch.kind));
  line.text(swatch.method);
  line.text(swatch.surface);
  line.text(swatch.finish == Finish::plain ? "plain" : "unmeasurable");
  line.text(swatch.retired ? "yes" : "no");
  line.text(swatch.in_stock ? "yes" : "no");
  line.text(swatch.batch);
  line.text(swatch.note);
}

void write_reading(CsvLine& line, const Reading& reading, const CsvWavelengths& all) {
  line.number(reading.lab.L);
  line.number(reading.lab.a);
  line.number(reading.lab.b);
  for (const std::string* text :
       {&reading.white, &reading.adapted, &reading.source, &reading.date, &reading.batch, &reading.surface})
    line.text(*text);
  line.text(word_for(reading.dryness));
  line.text(reading.condition);
  line.text(reading.note);
  line.number(reading.error_de00);
  if (all.names.empty()) return;
  if (reading.spectrum.empty()) {
    for (std::size_t i = 0; i < all.names.size() + 3; ++i) line.empty();
    return;
  }
  line.number(reading.start_nm);
  line.number(reading.step_nm);
  line.number(static_cast<double>(reading.spectrum.size()));
  std::vector<const double*> values(all.names.size(), nullptr);
  for (std::size_t i = 0; i < reading.spectrum.size(); ++i)
    values[all.index.at(wavelength(reading, i))] = &reading.spectrum[i];
  for (const double* value : values) {
    if (value != nullptr) {
      line.number(*value);
    } else {
      line.empty();
    }
  }
}

}  // namespace

std::string with_guard(std::string_view text) {
  return (is_dangerous(text) ? "'" : "") + std::string(text);
}

std::string without_guard(std::string_view text) {
  if (text.starts_with('\'') && is_dangerous(text.substr(1))) text.remove_prefix(1);
  return std::string(text);
}

std::string csv_text(const Stash& stash) {
  const CsvWavelengths all = csv_wavelengths_of(stash);
  std::string out =
      "swatch_id,name,kind,method,swatch_surface,finish,retired,in_stock,shelf_batch,swatch_note,L,a,b,white,"
      "adapted,"
      "source,date,reading_batch,reading_surface,dryness,condition,reading_note,error_de00";
  if (!all.names.empty()) out += ",start_nm,step_nm,bands," + joined(all.names, ",");
  out += "\r\n";
  const std::size_t reading_cells = 13 + (all.names.empty() ? 0 : 3 + all.names.size());
  for (const Swatch& swatch : stash.swatches) {
    for (const Reading& reading : swatch.readings) {
      CsvLine line(out);
      write_swatch(line, swatch);
      write_reading(line, reading, all);
      line.end();
    }
    if (!swatch.readings.empty()) continue;
    CsvLine line(out);
    write_swatch(line, swatch);
    for (std::size_t i = 0; i < reading_cells; ++i) line.empty();
    line.end();
  }
  return out;
}

}  // namespace kithue
