// SPDX-License-Identifier: MIT
#include <array>
#include <functional>

#include "samples/kinds.h"
#include "samples/table.h"

namespace kithue::samples {
namespace {

std::string quoted(const std::string& cell) {
  return '"' + replaced_all(cell, "\"", "\"\"") + '"';
}

std::string line_of(const std::vector<std::string>& cells, char separator, bool quote_all) {
  std::string line;
  for (std::size_t i = 0; i < cells.size(); ++i) {
    const bool needs = cells[i].find_first_of(std::string("\"\r\n") + separator) != std::string::npos;
    line += (i == 0 ? "" : std::string(1, separator)) + (needs || quote_all ? quoted(cells[i]) : cells[i]);
  }
  return line;
}

std::string text_of(const Table& table, char separator = ',', const std::string& end = "\n",
                    bool quote_all = false) {
  std::string text = line_of(table.columns, separator, quote_all) + end;
  for (const auto& row : table.rows) text += line_of(row, separator, quote_all) + end;
  return text;
}

bool is_number_column(const std::string& column) {
  return column == "L" || column == "a" || column == "b";
}

Sample sound(Dice& dice) {
  Table table = random_table(dice, 1 + dice.below(12));
  Sample sample{"", "", 0, table.rows.size()};
  const char separator = ",;\t"[dice.below(3)];
  sample.what = separator == ',' ? "commas" : separator == ';' ? "semicolons" : "tabs";
  if (separator != ',' && dice.chance(2)) {
    sample.what += ", decimal commas";
    for (auto& row : table.rows) {
      for (std::size_t i = 0; i < row.size(); ++i)
        if (is_number_column(table.columns[i])) row[i] = replaced_all(row[i], ".", ",");
    }
  }
  if (dice.chance(3)) {
    sample.what += ", a name that needs quotes";
    table.cell(dice.below(table.rows.size()), "name") = "Rope, \"tarred\"; old";
  }
  if (dice.chance(3)) {
    sample.what += ", a column of its own";
    table.columns.emplace_back("Shelf");
    for (auto& row : table.rows) row.push_back("B" + std::to_string(dice.below(9)));
  }
  if (dice.chance(3)) {
    sample.what += ", other spellings of the header";
    constexpr const char* kSpellings[][3] = {{"CIE L*", "CIE a*", "CIE b*"},
                                             {"LAB_L", "LAB_A", "LAB_B"},
                                             {"L*", "a*", "b*"},
                                             {"Lab L", "Lab a", "Lab b"}};
    const auto& spelling = dice.one_of(kSpellings);
    const std::array places{table.at("L"), table.at("a"), table.at("b")};
    for (std::size_t i = 0; i < places.size(); ++i) table.columns[places[i]] = spelling[i];
  }
  const std::string end = dice.one_of({"\n", "\r\n", "\r"});
  std::string text = text_of(table, separator, end, dice.chance(4));
  if (dice.chance(5)) text += end + end;
  if (dice.chance(4)) text.resize(text.find_last_not_of("\r\n") + 1);
  if (dice.chance(5)) text = "Handheld report" + end + end + text;
  switch (dice.below(5)) {
    case 0:
      sample.what += ", UTF-16";
      text = utf16_of(text, dice.chance(2));
      break;
    case 1:
      sample.what += ", a byte-order mark";
      text.insert(0, "\xEF\xBB\xBF");
      break;
    default:
      break;
  }
  sample.bytes = std::move(text);
  return sample;
}

struct Spoiling {
  Dice& dice;
  Table table;
  std::size_t row;  // that the fault goes into

  [[nodiscard]] std::size_t line() const { return row + 2; }
  /// The table with this in a cell of the row.
  Sample with(const std::string& column, const std::string& text) {
    table.cell(row, column) = text;
    return {text_of(table), "", line(), 0};
  }
  /// The table with its line of the row made anew.
  Sample line_as(const std::function<std::string(std::string)>& change) {
    std::string text = line_of(table.columns, ',', false) + "\n";
    for (std::size_t i = 0; i < table.rows.size(); ++i) {
      const std::string written = line_of(table.rows[i], ',', false);
      text += (i == row ? change(written) : written) + "\n";
    }
    return {text, "", line(), 0};
  }
};

using Spoil = Sample (*)(Spoiling&);
struct Fault {
  const char* what;
  Spoil spoil;
};

// A fault of one row.
constexpr Fault kRowFaults[] = {
    {"a word for a number",
     [](Spoiling& s) {
       return s.with(s.dice.one_of({"L", "a", "b"}),
                     s.dice.one_of({"nan", "inf", "-inf", "1e999", "abc", "1.2.3", "--5", "0x20", "5O", "1/2",
                                    "", "-", "1e", "NaN", "+-1", "1 2", "\xE2\x88\x9E"}));
     }},
    {"a lightness that is none",
     [](Spoiling& s) {
       return s.with("L", s.dice.one_of({"500", "-20", "1e30", "1000000"}));
     }},
    {"a colour that is none",
     [](Spoiling& s) {
       return s.with(s.dice.one_of({"a", "b"}), "1e6");
     }},
    {"a row cut short",
     [](Spoiling& s) {
       s.table.rows[s.row].resize(s.dice.below(s.table.columns.size() - 3) + 1);
       return s.line_as([](std::string line) { return line; });
     }},
    {"more values than columns",
     [](Spoiling& s) { return s.line_as([](const std::string& line) { return line + ",17,x"; }); }},
    {"semicolons among commas",
     [](Spoiling& s) {
       return s.line_as([](const std::string& line) { return replaced_all(line, ",", ";"); });
     }},
    {"a decimal comma among points",
     [](Spoiling& s) {
       for (auto& row : s.table.rows) row[s.table.at("L")] = "50.5";
       s.table.rows.push_back(s.table.rows.front());
       return s.with("a", "12,5");
     }},
    {"a white that does not exist",
     [](Spoiling& s) {
       return s.with("white", s.dice.one_of({"D66/2", "daylight", "D50/3", "50", "D65/", "D50/2/2"}));
     }},
    {"no white",
     [](Spoiling& s) {
       return s.with("white", s.dice.one_of({"", "  "}));
     }},
    {"a kind that does not exist",
     [](Spoiling& s) {
       return s.with("kind", s.dice.one_of({"stok", "pen", "1", "stock ink"}));
     }},
    {"no kind", [](Spoiling& s) { return s.with("kind", ""); }},
    {"no name",
     [](Spoiling& s) {
       return s.with("name", s.dice.one_of({"", " ", "\t"}));
     }},
    {"a name that is not UTF-8",
     [](Spoiling& s) {
       return s.with("name", s.dice.one_of({"\xFF", "a\xC3", "\xED\xA0\x80", "\xC0\xAF"}));
     }},
    {"a control character in a name",
     [](Spoiling& s) {
       return s.with("name", s.dice.one_of({"a\x1B[31m", "a\x07", "a\x7F", "\x01"}));
     }},
    {"a name of 300 letters", [](Spoiling& s) { return s.with("name", std::string(300, 'x')); }},
    {"a NUL byte",
     [](Spoiling& s) {
       return s.line_as([](std::string line) { return line.insert(line.size() / 2, 1, '\0'); });
     }},
    {"text after a closing quote",
     [](Spoiling& s) { return s.line_as([](const std::string& line) { return "\"x\" y," + line; }); }},
    {"a cell of 1 MB", [](Spoiling& s) { return s.with("name", std::string(1 << 20, 'x')); }},
    {"neither yes nor no",
     [](Spoiling& s) {
       s.table.columns.emplace_back("retired");
       for (auto& row : s.table.rows) row.emplace_back("no");
       return s.with("retired", "maybe");
     }},
    {"neither dry nor wet",
     [](Spoiling& s) {
       s.table.columns.emplace_back("dryness");
       for (auto& row : s.table.rows) row.emplace_back("dry");
       return s.with("dryness", "damp");
     }},
};

Sample whole(std::string bytes) {
  return {std::move(bytes), "", 0, 0};
}

// A fault of the whole file.
constexpr Fault kFileFaults[] = {
    {"no header",
     [](Spoiling& s) {
       const std::string text = text_of(s.table);
       return whole(text.substr(text.find('\n') + 1));
     }},
    {"a column missing",
     [](Spoiling& s) {
       s.table.drop(s.dice.one_of({"L", "a", "b", "name"}));
       return whole(text_of(s.table));
     }},
    {"two columns of one number",
     [](Spoiling& s) {
       s.table.columns.emplace_back(s.dice.one_of({"L", "CIE L*", "LAB_A", "b*"}));
       for (auto& row : s.table.rows) row.emplace_back("5");
       return whole(text_of(s.table));
     }},
    {"a quote never closed",
     [](Spoiling& s) { return whole(s.line_as([](const std::string& line) { return "\"" + line; }).bytes); }},
    {"half a character of UTF-16",
     [](Spoiling& s) {
       std::string bytes = utf16_of(text_of(s.table), s.dice.chance(2));
       bytes.pop_back();
       return whole(bytes);
     }},
    {"a lone surrogate",
     [](Spoiling& s) {
       std::string bytes = utf16_of(text_of(s.table), true);
       bytes.insert(2 * (bytes.size() / 4),
                    s.dice.chance(2) ? "\x01\xDC" : std::string("\x01\xD8", 2) + "x" + '\0');
       return whole(bytes);
     }},
    {"100,000 columns",
     [](Spoiling& s) {
       return whole(text_of(s.table) + std::string(100'000, s.dice.chance(2) ? ',' : 'x') + "\n" +
                    std::string(100'000, ','));
     }},
    {"nothing in it",
     [](Spoiling& s) {
       return whole(s.dice.one_of({"", "\n", " \r\n\t", "\xEF\xBB\xBF"}));
     }},
    {"only a header",
     [](Spoiling& s) {
       s.table.rows.clear();
       return whole(text_of(s.table));
     }},
    {"another kind of file",
     [](Spoiling& s) {
       return whole(
           s.dice.one_of({"{\"name\":[1,2,3]}", "<html><table><tr><td>L</td></tr></table></html>",
                          "%PDF-1.7\n1 0 obj", "name = \"kit\"\nkits = 3\n", "PK\x03\x04zipped", "L a b"}));
     }},
    {"random bytes",
     [](Spoiling& s) {
       std::string bytes;
       for (std::size_t i = 0, size = 20 + s.dice.below(2000); i < size; ++i)
         bytes += static_cast<char>(s.dice.byte());
       return whole(bytes);
     }},
};

Sample spoilt(const Fault& fault, Dice& dice) {
  Spoiling spoiling{dice, random_table(dice, 2 + dice.below(8)), 0};
  spoiling.row = dice.below(spoiling.table.rows.size());
  Sample sample = fault.spoil(spoiling);
  sample.what = fault.what;
  return sample;
}

}  // namespace

Sample sound_csv(Dice& dice) {
  return sound(dice);
}

Sample spoilt_csv(std::size_t turn, Dice& dice) {
  constexpr std::size_t kRows = std::size(kRowFaults);
  const std::size_t fault = turn % (kRows + std::size(kFileFaults));
  return spoilt(fault < kRows ? kRowFaults[fault] : kFileFaults[fault - kRows], dice);
}

}  // namespace kithue::samples
