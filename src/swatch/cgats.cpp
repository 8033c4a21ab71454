// SPDX-License-Identifier: MIT
#include "swatch/cgats.h"

#include <algorithm>

#include "base/text.h"
#include "swatch/cgats_lines.h"

namespace kithue {
namespace {

char lower(char c) {
  return c >= 'A' && c <= 'Z' ? static_cast<char>(c - 'A' + 'a') : c;
}

bool same_word(std::string_view x, std::string_view y) {
  return x.size() == y.size() &&
         std::equal(x.begin(), x.end(), y.begin(), [](char p, char q) { return lower(p) == lower(q); });
}

class Parser {
 public:
  Parser(Cgats& file, const std::string& name) : file_(file), name_(name) {}

  MaybeError run() {
    const std::string_view bytes = file_.bytes;
    for (std::size_t at = 0; at < bytes.size();) {
      const Line line = line_at(bytes, at);
      ++number_;
      if (auto fault = tokenise(at, line.end)) return fault;
      if (!words_.empty()) {
        if (auto fault = take_line()) return fault;
      }
      at = line.next;
    }
    return finish();
  }

 private:
  enum class Part { header, format, data };

  [[nodiscard]] Error fault(std::string what, std::string advice = {}) const {
    return {ErrorKind::bad_input, std::move(what), name_ + ":" + std::to_string(number_), std::move(advice)};
  }

  void problem(std::size_t line, std::string what, std::string advice = {}, bool is_row = false) {
    file_.problems.push_back({line, std::move(what), std::move(advice), is_row});
  }

  MaybeError tokenise(std::size_t at, std::size_t end) {
    words_.clear();
    line_start_ = at;
    line_end_ = end;
    const std::string& bytes = file_.bytes;
    while (at < end) {
      const char c = bytes[at];
      if (c == ' ' || c == '\t') {
        ++at;
        continue;
      }
      if (c == '#') break;
      if (c == '"') {
        std::size_t close = at + 1;
        while (true) {
          close = bytes.find('"', close);
          if (close == std::string::npos || close >= end)
            return fault("a quote is opened and not closed on this line", "add the missing \"");
          if (close + 1 >= end || bytes[close + 1] != '"') break;
          close += 2;  // doubled: a quote of the text
        }
        if (auto wrong = add_word(at + 1, close, true)) return wrong;
        at = close + 1;
        continue;
      }
      std::size_t stop = at;
      while (stop < end && bytes[stop] != ' ' && bytes[stop] != '\t') ++stop;
      if (auto wrong = add_word(at, stop, false)) return wrong;
      at = stop;
    }
    return std::nullopt;
  }

  MaybeError add_word(std::size_t start, std::size_t end, bool quoted) {
    if (end - start > kMostCellBytes) return fault("a value is longer than 64 kB", "is this a table?");
    if (words_.size() >= kMostColumns) return fault("more than 10000 values on one line", "is this a table?");
    CgatsCell cell;
    cell.start = static_cast<std::uint32_t>(start);
    cell.length = static_cast<std::uint32_t>(end - start) & 0x7fffffffU;
    cell.quoted = quoted ? 1 : 0;
    words_.push_back(cell);
    return std::nullopt;
  }

  [[nodiscard]] bool first_is(std::string_view word) const {
    return words_.front().quoted == 0 && same_word(file_.raw(words_.front()), word);
  }

  MaybeError take_line() {
    switch (part_) {
      case Part::header:
        return take_header();
      case Part::format:
        return take_format(0);
      case Part::data:
        return take_data();
    }
    return std::nullopt;
  }

  MaybeError take_header() {
    if (first_is("BEGIN_DATA_FORMAT")) {
      part_ = Part::format;
      format_line_ = number_;
      table_.fields_line = number_;
      table_.fields.clear();
      return take_format(1);
    }
    if (first_is("BEGIN_DATA")) {
      if (table_.fields.empty()) {
        return fault("the rows begin before any field names",
                     "BEGIN_DATA_FORMAT ... END_DATA_FORMAT must stand before BEGIN_DATA");
      }
      part_ = Part::data;
      return std::nullopt;
    }
    if (first_is("KEYWORD") || first_is("DATA_FORMAT_IDENTIFIER")) return std::nullopt;
    const std::string key(file_.raw(words_.front()));
    std::string value;
    for (std::size_t i = 1; i < words_.size(); ++i) value += (i == 1 ? "" : " ") + file_.text(words_[i]);
    if (first_is("NUMBER_OF_FIELDS")) claim(claimed_fields_, key, value);
    if (first_is("NUMBER_OF_SETS")) claim(claimed_rows_, key, value);
    if (table_.keywords.size() >= kMostColumns) return fault("more than 10000 header lines");
    table_.keywords.push_back({key, value, number_});
    return std::nullopt;
  }

  struct Claim {
    std::optional<long long> count;
    std::size_t line = 0;
  };
  void claim(Claim& claim, const std::string& key, const std::string& value) {
    claim.line = number_;
    claim.count = parse_whole(value);
    if (!claim.count) problem(number_, key + " is not a whole number: \"" + value + "\"");
  }

  MaybeError take_format(std::size_t from) {
    for (std::size_t i = from; i < words_.size(); ++i) {
      const std::string word = file_.text(words_[i]);
      if (words_[i].quoted == 0 && same_word(word, "END_DATA_FORMAT")) {
        part_ = Part::header;
        if (claimed_fields_.count && *claimed_fields_.count != static_cast<long long>(table_.fields.size())) {
          problem(claimed_fields_.line, "NUMBER_OF_FIELDS says " + std::to_string(*claimed_fields_.count) +
                                            " but " + std::to_string(table_.fields.size()) + " are named");
        }
        return check_fields();
      }
      if (table_.fields.size() >= kMostColumns) return fault("more than 10000 fields");
      table_.fields.push_back(word);
    }
    return std::nullopt;
  }

  MaybeError check_fields() {
    const std::size_t line = number_;
    number_ = format_line_;
    if (table_.fields.empty()) return fault("no field names");
    if (table_.fields.size() == 1 && table_.fields.front().find_first_of(",;") != std::string::npos) {
      return fault(
          "the field names are joined by commas: a spreadsheet saved this as CSV",
          "save it as text with tabs, or remove the lines above and between so that it is a CSV table");
    }
    number_ = line;
    return std::nullopt;
  }

  MaybeError take_data() {
    if (first_is("END_DATA")) {
      drop_pending();
      return close_table();
    }
    const std::size_t fields = table_.fields.size();
    if (words_.size() == fields) {
      drop_pending();
      return add_row(words_, number_);
    }
    if (words_.size() > fields) {
      drop_pending();
      if (split_at_tabs(fields)) return add_row(words_, number_);
      wrong_row(number_, words_.size());
      return std::nullopt;
    }
    // Too few: perhaps a row wrapped over several lines, each too short on its own.
    if (pending_.empty()) pending_line_ = number_;
    pending_.insert(pending_.end(), words_.begin(), words_.end());
    if (pending_.size() == fields) {
      const std::vector<CgatsCell> row = std::move(pending_);
      pending_.clear();
      return add_row(row, pending_line_);
    }
    if (pending_.size() > fields) {
      pending_.resize(pending_.size() - words_.size());
      drop_pending();
      pending_ = words_;
      pending_line_ = number_;
    }
    return std::nullopt;
  }

  /// A row with text that has spaces and no quotes, in a file whose values stand apart by single tabs.
  bool split_at_tabs(std::size_t fields) {
    std::vector<CgatsCell> cells;
    for (std::size_t at = line_start_; at <= line_end_ && cells.size() <= fields;) {
      const std::size_t stop = std::min(file_.bytes.find('\t', at), line_end_);
      CgatsCell cell;
      cell.start = static_cast<std::uint32_t>(at);
      cell.length = static_cast<std::uint32_t>(stop - at) & 0x7fffffffU;
      if (file_.raw(cell).find('"') != std::string_view::npos) return false;
      cells.push_back(cell);
      at = stop + 1;
    }
    if (cells.size() != fields) return false;
    words_ = std::move(cells);
    return true;
  }

  void drop_pending() {
    if (!pending_.empty()) wrong_row(pending_line_, pending_.size());
    pending_.clear();
  }

  void wrong_row(std::size_t line, std::size_t values) {
    ++left_out_;
    problem(line, counted(values, "value") + " in a row of " + counted(table_.fields.size(), "field"),
            "text with a space needs double quotes around it", true);
  }

  MaybeError add_row(const std::vector<CgatsCell>& row, std::size_t line) {
    if (table_.rows() >= kMostRows) return fault("more than 1000000 rows", "split the file");
    if (table_.cells.size() + row.size() > kMostCells)
      return fault("more than 20 million values", "split the file");
    table_.cells.insert(table_.cells.end(), row.begin(), row.end());
    table_.row_lines.push_back(static_cast<std::uint32_t>(line));
    return std::nullopt;
  }

  MaybeError close_table() {
    const std::size_t rows = table_.rows() + left_out_;
    if (claimed_rows_.count && *claimed_rows_.count != static_cast<long long>(rows)) {
      problem(claimed_rows_.line,
              "NUMBER_OF_SETS says " + std::to_string(*claimed_rows_.count) + " but there are " +
                  counted(rows, "row"),
              "was the file cut short or edited?");
    }
    file_.tables.push_back(std::move(table_));
    table_ = {};
    claimed_fields_ = {};
    claimed_rows_ = {};
    left_out_ = 0;
    part_ = Part::header;
    return std::nullopt;
  }

  MaybeError finish() {
    if (part_ == Part::format) return fault("the field names never end", "END_DATA_FORMAT is missing");
    if (part_ == Part::data) {
      drop_pending();
      problem(number_, "the file ends without END_DATA", "was it cut short?");
      return close_table();
    }
    if (file_.tables.empty()) return fault("no rows: there is no BEGIN_DATA", "is this a CGATS file?");
    return std::nullopt;
  }

  Cgats& file_;
  const std::string& name_;
  std::size_t number_ = 0;
  Part part_ = Part::header;
  std::size_t format_line_ = 0;
  CgatsTable table_;
  Claim claimed_fields_;
  Claim claimed_rows_;
  std::size_t left_out_ = 0;
  std::vector<CgatsCell> words_;
  std::vector<CgatsCell> pending_;
  std::size_t pending_line_ = 0;
  std::size_t line_start_ = 0;
  std::size_t line_end_ = 0;
};

}  // namespace

std::optional<std::size_t> CgatsTable::column(std::string_view field) const {
  for (std::size_t i = 0; i < fields.size(); ++i) {
    if (same_word(fields[i], field)) return i;
  }
  return std::nullopt;
}

const std::string* CgatsTable::keyword(std::string_view name) const {
  for (auto at = keywords.rbegin(); at != keywords.rend(); ++at) {
    if (same_word(at->name, name)) return &at->value;
  }
  return nullptr;
}

std::string Cgats::text(const CgatsCell& cell) const {
  const std::string_view inside = raw(cell);
  if (cell.quoted == 0 || inside.find('"') == std::string_view::npos) return std::string(inside);
  std::string undone;
  for (std::size_t i = 0; i < inside.size(); ++i) {
    undone += inside[i];
    if (inside[i] == '"') ++i;
  }
  // A cell a spreadsheet quoted once more: """sea green""".
  if (undone.size() >= 2 && undone.front() == '"' && undone.back() == '"' &&
      undone.find('"', 1) == undone.size() - 1)
    undone = undone.substr(1, undone.size() - 2);
  return undone;
}

bool looks_like_cgats(std::string_view bytes) {
  if (bytes.starts_with("CGATS")) return true;
  for (std::size_t at = 0; at < bytes.size();) {
    const Line line = line_at(bytes, at);
    std::string_view text = trimmed(bytes.substr(at, line.end - at));
    if (text.starts_with('"')) text.remove_prefix(1);
    if (text.starts_with("BEGIN_DATA") || text.starts_with("NUMBER_OF_SETS") ||
        text.starts_with("NUMBER_OF_FIELDS"))
      return true;
    at = line.next;
  }
  return false;
}

Result<Cgats> parse_cgats(std::string bytes, const std::string& name) {
  if (bytes.size() > kMostFileBytes)
    return Error{ErrorKind::bad_input, "larger than the limit of 64 MB", name, "split the file"};
  Cgats file;
  if (bytes.starts_with("\xef\xbb\xbf")) bytes.erase(0, 3);
  file.bytes = std::move(bytes);
  if (const auto nul = file.bytes.find('\0'); nul != std::string::npos) {
    const auto lines =
        std::count(file.bytes.begin(), file.bytes.begin() + static_cast<std::ptrdiff_t>(nul), '\n');
    return Error{ErrorKind::bad_input, "a NUL byte: this is not text", name + ":" + std::to_string(lines + 1),
                 "export the file again"};
  }
  unwrap_lines(file);
  Parser parser(file, name);
  if (auto fault = parser.run()) return std::move(*fault);
  std::stable_sort(file.problems.begin(), file.problems.end(),
                   [](const CgatsProblem& x, const CgatsProblem& y) { return x.line < y.line; });
  return file;
}

}  // namespace kithue
