// SPDX-License-Identifier: MIT
#include <array>

#include "samples/kinds.h"
#include "samples/table.h"

namespace kithue::samples {
namespace {

/// A CGATS.17 file before it is written down.
struct Text {
  std::vector<std::string> header;
  std::vector<std::string> fields;
  std::vector<std::vector<std::string>> rows;
  std::string separator = "\t";
  std::string end = "\n";
  std::size_t fields_line = 0;  // of BEGIN_DATA_FORMAT, filled in by written()
  std::size_t data_line = 0;    // of the first row

  std::string written();
};

std::string in_quotes(const std::string& text) {
  return '"' + text + '"';
}

std::string joined_by(const std::vector<std::string>& words, const std::string& separator) {
  std::string line;
  for (const std::string& word : words) line += (line.empty() ? "" : separator) + word;
  return line;
}

std::string Text::written() {
  std::string text;
  std::size_t line = 1;
  const auto put = [&](const std::string& words) {
    text += words + end;
    ++line;
  };
  for (const std::string& one : header) put(one);
  fields_line = line;
  put("BEGIN_DATA_FORMAT");
  put(joined_by(fields, separator));
  put("END_DATA_FORMAT");
  put("BEGIN_DATA");
  data_line = line;
  for (const auto& row : rows) put(joined_by(row, separator));
  put("END_DATA");
  return text;
}

Text random_text(Dice& dice, std::size_t rows) {
  const Table table = random_table(dice, rows);
  Text text;
  text.header = {"CGATS.17", "ORIGINATOR \"Harbour Morning, invented\"",
                 "MEASUREMENT_SOURCE \"Illuminant=D50 ObserverAngle=2\"",
                 "NUMBER_OF_FIELDS " + std::to_string(table.columns.size()),
                 "NUMBER_OF_SETS " + std::to_string(rows)};
  for (const std::string& column : table.columns) {
    text.fields.push_back(column == "name"   ? "SAMPLE_NAME"
                          : column == "L"    ? "LAB_L"
                          : column == "a"    ? "LAB_A"
                          : column == "b"    ? "LAB_B"
                          : column == "kind" ? "KIND"
                                             : "WHITE");
  }
  for (auto row : table.rows) {
    row[table.at("name")] = in_quotes(row[table.at("name")]);
    text.rows.push_back(std::move(row));
  }
  return text;
}

std::size_t field(const Text& text, const std::string& name) {
  std::size_t i = 0;
  while (text.fields[i] != name) ++i;
  return i;
}

/// Reflectance from 380 to 730 nm in place of Lab.
void make_spectral(Text& text, Dice& dice) {
  for (const char* name : {"LAB_L", "LAB_A", "LAB_B"}) {
    const auto at = static_cast<std::ptrdiff_t>(field(text, name));
    text.fields.erase(text.fields.begin() + at);
    for (auto& row : text.rows) row.erase(row.begin() + at);
  }
  for (int nm = 380; nm <= 730; nm += 10) {
    text.fields.push_back("SPECTRAL_NM" + std::to_string(nm));
    for (auto& row : text.rows) row.push_back("0." + std::to_string(dice.between(10, 89)));
  }
  text.header[3] = "NUMBER_OF_FIELDS " + std::to_string(text.fields.size());
}

Sample sound(Dice& dice) {
  Text text = random_text(dice, 1 + dice.below(10));
  Sample sample{"", "Lab", 0, text.rows.size()};
  if (dice.chance(4)) {
    sample.what = "spectra";
    make_spectral(text, dice);
  }
  if (dice.chance(3)) {
    sample.what += ", a field of its own";
    text.header.insert(text.header.begin() + 3, "KEYWORD \"BIN_NUMBER\"");
    text.fields.emplace_back("BIN_NUMBER");
    for (auto& row : text.rows) row.push_back(std::to_string(dice.below(99)));
    text.header[4] = "NUMBER_OF_FIELDS " + std::to_string(text.fields.size());
  }
  text.separator = dice.chance(3) ? "  " : "\t";
  text.end = dice.one_of({"\n", "\r\n", "\r"});
  if (dice.chance(3)) text.header.emplace_back("# a remark \"with an open quote");
  if (dice.chance(4)) text.header.erase(text.header.begin() + 3, text.header.begin() + 5);
  std::string bytes = text.written();
  if (dice.chance(4)) {
    sample.what += ", two tables";
    Text second = random_text(dice, 1 + dice.below(4));
    second.end = text.end;
    sample.rows += second.rows.size();
    bytes += text.end + second.written();
  }
  if (dice.chance(6)) bytes.insert(0, "\xEF\xBB\xBF");
  sample.bytes = std::move(bytes);
  return sample;
}

struct Spoiling {
  Dice& dice;
  Text text;
  std::size_t row;
  [[nodiscard]] Sample at_row() {
    std::string bytes = text.written();
    return {std::move(bytes), "", text.data_line + row, 0};
  }
  Sample with(const std::string& name, const std::string& value) {
    text.rows[row][field(text, name)] = value;
    return at_row();
  }
  Sample at_header(std::size_t line, const std::string& words) {
    text.header[line - 1] = words;
    return {text.written(), "", line, 0};
  }
  Sample whole() { return {text.written(), "", 0, 0}; }
};

/// The text without the line that reads so.
Sample without(const std::string& text, const std::string& line) {
  const auto at = text.find("\n" + line + "\n");
  return {text.substr(0, at) + text.substr(at + line.size() + 1), "", 0, 0};
}

struct Fault {
  const char* what;
  Sample (*spoil)(Spoiling&);
};

constexpr Fault kFaults[] = {
    {"a count that does not fit",
     [](Spoiling& s) {
       return s.at_header(
           5, "NUMBER_OF_SETS " + std::string(s.dice.one_of({"0", "-1", "2147483648", "4294967296", "99999",
                                                             "9223372036854775807"})));
     }},
    {"a count of fields that does not fit",
     [](Spoiling& s) {
       return s.at_header(
           4, "NUMBER_OF_FIELDS " + std::string(s.dice.one_of({"0", "-1", "7", "2147483648", "4294967296"})));
     }},
    {"a count that is no number",
     [](Spoiling& s) {
       return s.at_header(
           5, "NUMBER_OF_SETS " + std::string(s.dice.one_of({"many", "1e3", "\"\"", "0x5", "3.5"})));
     }},
    {"END_DATA missing", [](Spoiling& s) { return without(s.text.written(), "END_DATA"); }},
    {"END_DATA_FORMAT missing", [](Spoiling& s) { return without(s.text.written(), "END_DATA_FORMAT"); }},
    {"BEGIN_DATA missing", [](Spoiling& s) { return without(s.text.written(), "BEGIN_DATA"); }},
    {"BEGIN_DATA_FORMAT missing", [](Spoiling& s) { return without(s.text.written(), "BEGIN_DATA_FORMAT"); }},
    {"cut short among the rows",
     [](Spoiling& s) {
       const std::string bytes = s.text.written();
       const auto rows = bytes.find("BEGIN_DATA\n") + 11;
       return Sample{bytes.substr(0, rows + s.dice.below(bytes.size() - rows - 9)), "", 0, 0};
     }},
    {"cut short in the header",
     [](Spoiling& s) {
       const std::string bytes = s.text.written();
       return Sample{bytes.substr(0, 8 + s.dice.below(bytes.find("BEGIN_DATA\n") - 8)), "", 0, 0};
     }},
    {"a row too short",
     [](Spoiling& s) {
       s.text.rows[s.row].pop_back();
       return s.at_row();
     }},
    {"a row too long",
     [](Spoiling& s) {
       s.text.rows[s.row].emplace_back("17");
       return s.at_row();
     }},
    {"a quote never closed",
     [](Spoiling& s) {
       return s.with("SAMPLE_NAME", s.dice.one_of({"\"Slipway", "\"", "\"a\"\"", "\"x\ty"}));
     }},
    {"a NUL byte", [](Spoiling& s) { return s.with("KIND", std::string("st\0ck", 5)); }},
    {"a word for a number",
     [](Spoiling& s) {
       return s.with(
           s.dice.one_of({"LAB_L", "LAB_A", "LAB_B"}),
           s.dice.one_of({"nan", "inf", "-inf", "1e999", "abc", "1.2.3", "--5", "0x20", "5O", "-"}));
     }},
    {"a lightness that is none",
     [](Spoiling& s) {
       return s.with("LAB_L", s.dice.one_of({"500", "-20", "1e30"}));
     }},
    {"a colour that is none",
     [](Spoiling& s) {
       return s.with(s.dice.one_of({"LAB_A", "LAB_B"}), "-1e6");
     }},
    {"a kind that does not exist",
     [](Spoiling& s) {
       return s.with("KIND", s.dice.one_of({"stok", "7", "pad"}));
     }},
    {"a white that does not exist",
     [](Spoiling& s) {
       return s.with("WHITE", s.dice.one_of({"D66/2", "noon", "D50/3"}));
     }},
    {"an empty name",
     [](Spoiling& s) {
       return s.with("SAMPLE_NAME", s.dice.one_of({"\"\"", "\" \""}));
     }},
    {"a name that is not UTF-8",
     [](Spoiling& s) {
       return s.with("SAMPLE_NAME", s.dice.one_of({"\"\xFF\"", "\"a\xC3\"", "\"\xED\xA0\x80\""}));
     }},
    {"a control character in a name",
     [](Spoiling& s) {
       return s.with("SAMPLE_NAME", s.dice.one_of({"\"a\x1B[31m\"", "\"a\x07\""}));
     }},
    {"a value of 1 MB",
     [](Spoiling& s) { return s.with("SAMPLE_NAME", in_quotes(std::string(1 << 20, 'x'))); }},
    {"100,000 fields",
     [](Spoiling& s) {
       s.text.fields.assign(100'000, "F");
       return s.whole();
     }},
    {"Lab missing",
     [](Spoiling& s) {
       s.text.fields[field(s.text, s.dice.one_of({"LAB_L", "LAB_A", "LAB_B"}))] = "CMYK_C";
       return s.whole();
     }},
    {"the name missing",
     [](Spoiling& s) {
       s.text.fields[field(s.text, "SAMPLE_NAME")] = "SAMPLE_MASS";
       return s.whole();
     }},
    {"two fields of one number",
     [](Spoiling& s) {
       s.text.fields.emplace_back("LAB_L");
       for (auto& row : s.text.rows) row.emplace_back("50");
       s.text.header[3] = "NUMBER_OF_FIELDS " + std::to_string(s.text.fields.size());
       return s.whole();
     }},
    {"field names joined by commas",
     [](Spoiling& s) {
       s.text.fields = {joined_by(s.text.fields, ",")};
       return s.whole();
     }},
    {"a spectrum with a hole",
     [](Spoiling& s) {
       make_spectral(s.text, s.dice);
       s.text.rows[s.row][field(s.text, "SPECTRAL_NM550")] = s.dice.one_of({"nan", "x", "9e9", "-4"});
       return s.at_row();
     }},
    {"a spectrum of three bands",
     [](Spoiling& s) {
       make_spectral(s.text, s.dice);
       const auto keep = static_cast<std::ptrdiff_t>(field(s.text, "SPECTRAL_NM410"));
       s.text.fields.erase(s.text.fields.begin() + keep, s.text.fields.end());
       for (auto& row : s.text.rows) row.erase(row.begin() + keep, row.end());
       s.text.header[3] = "NUMBER_OF_FIELDS " + std::to_string(s.text.fields.size());
       return s.whole();
     }},
    {"no rows at all",
     [](Spoiling& s) {
       return Sample{s.text.header[0] + "\n" + s.text.header[1] + "\n", "", 0, 0};
     }},
    {"random bytes after the first line",
     [](Spoiling& s) {
       std::string bytes = "CGATS.17\n";
       for (std::size_t i = 0, size = 20 + s.dice.below(1000); i < size; ++i)
         bytes += static_cast<char>(s.dice.byte());
       return Sample{bytes, "", 0, 0};
     }},
};

}  // namespace

Sample sound_cgats(Dice& dice) {
  return sound(dice);
}

Sample spoilt_cgats(std::size_t turn, Dice& dice) {
  const Fault& fault = kFaults[turn % std::size(kFaults)];
  Spoiling spoiling{dice, random_text(dice, 2 + dice.below(8)), 0};
  spoiling.row = dice.below(spoiling.text.rows.size());
  Sample sample = fault.spoil(spoiling);
  sample.what = fault.what;
  return sample;
}

}  // namespace kithue::samples
