// SPDX-License-Identifier: MIT
#include "swatch/csv.h"

#include <algorithm>

#include "base/text.h"

namespace kithue {
namespace {

void append_utf8(std::string& text, std::uint32_t code) {
  const auto put = [&](std::uint32_t byte) { text += static_cast<char>(static_cast<unsigned char>(byte)); };
  if (code < 0x80) {
    put(code);
  } else if (code < 0x800) {
    put(0xc0U | (code >> 6U));
    put(0x80U | (code & 0x3fU));
  } else if (code < 0x10000) {
    put(0xe0U | (code >> 12U));
    put(0x80U | ((code >> 6U) & 0x3fU));
    put(0x80U | (code & 0x3fU));
  } else {
    put(0xf0U | (code >> 18U));
    put(0x80U | ((code >> 12U) & 0x3fU));
    put(0x80U | ((code >> 6U) & 0x3fU));
    put(0x80U | (code & 0x3fU));
  }
}

class Splitter {
 public:
  Splitter(Csv& csv, char separator, const std::string& name)
      : csv_(csv), separator_(separator), name_(name) {}

  MaybeError run(std::size_t most_records) {
    const std::string& bytes = csv_.bytes;
    std::size_t at = 0;
    while (at < bytes.size() && (most_records == 0 || csv_.records.size() < most_records)) {
      CsvRecord record{csv_.cells.size(), 0, line_};
      if (auto fault = take_record(at, record)) return fault;
      record.count = csv_.cells.size() - record.first;
      if (is_blank(record)) {
        csv_.cells.resize(record.first);
        continue;
      }
      if (csv_.records.size() > kMostRows) return fault("more than 1000000 rows", "split the file");
      csv_.records.push_back(record);
    }
    return std::nullopt;
  }

 private:
  [[nodiscard]] Error fault(std::string what, std::string advice) const {
    return {ErrorKind::bad_input, std::move(what), name_ + ":" + std::to_string(line_), std::move(advice)};
  }

  /// Spreadsheets write the rows below a table as separators only.
  [[nodiscard]] bool is_blank(const CsvRecord& record) const {
    for (std::size_t i = 0; i < record.count; ++i) {
      if (!trimmed(csv_.text(record, i)).empty()) return false;
    }
    return true;
  }

  MaybeError take_record(std::size_t& at, const CsvRecord& record) {
    const std::string& bytes = csv_.bytes;
    for (;;) {
      if (auto fault = take_cell(at)) return fault;
      if (csv_.cells.size() - record.first > kMostColumns)
        return fault("more than 10000 columns", "is this a table?");
      if (csv_.cells.size() > kMostCells) return fault("more than 20 million values", "split the file");
      if (at >= bytes.size()) return std::nullopt;
      const char c = bytes[at++];
      if (c == separator_) continue;
      if (c == '\r' && at < bytes.size() && bytes[at] == '\n') ++at;
      ++line_;
      return std::nullopt;
    }
  }

  MaybeError take_cell(std::size_t& at) {
    const std::string& bytes = csv_.bytes;
    CgatsCell cell;
    const char ends[] = {separator_, '\r', '\n', '\0'};
    if (at < bytes.size() && bytes[at] == '"') {
      std::size_t close = at + 1;
      for (;; close += 2) {
        close = bytes.find('"', close);
        if (close == std::string::npos)
          return fault("a quote is opened and never closed", "add the missing \"");
        if (close + 1 >= bytes.size() || bytes[close + 1] != '"') break;
      }
      cell.quoted = 1;
      if (auto wrong = place(cell, at + 1, close)) return wrong;
      line_ +=
          static_cast<std::uint32_t>(std::count(bytes.begin() + static_cast<std::ptrdiff_t>(at),
                                                bytes.begin() + static_cast<std::ptrdiff_t>(close), '\n'));
      at = close + 1;
      // Anything between the closing quote and the separator is not RFC 4180; blanks are harmless.
      const std::size_t stop = std::min(bytes.find_first_of(ends, at, 3), bytes.size());
      if (!trimmed(std::string_view(bytes).substr(at, stop - at)).empty())
        return fault("text after a closing quote", "double the quotes inside quoted text");
      at = stop;
    } else {
      const std::size_t stop = std::min(bytes.find_first_of(ends, at, 3), bytes.size());
      if (auto wrong = place(cell, at, stop)) return wrong;
      at = stop;
    }
    csv_.cells.push_back(cell);
    return std::nullopt;
  }

  MaybeError place(CgatsCell& cell, std::size_t start, std::size_t end) {
    if (end - start > kMostCellBytes) return fault("a value is longer than 64 kB", "is this a table?");
    cell.start = static_cast<std::uint32_t>(start);
    cell.length = static_cast<std::uint32_t>(end - start) & 0x7fffffffU;
    return std::nullopt;
  }

  Csv& csv_;
  char separator_;
  const std::string& name_;
  std::uint32_t line_ = 1;
};

/// UTF-16 without its mark: among the first characters every byte at `high`, then every second, is 0 and
/// none of the others is.
bool looks_like_utf16(std::string_view bytes, std::size_t high) {
  const std::string_view start = bytes.substr(0, 64);
  if (start.size() < 8 || bytes.size() % 2 != 0) return false;
  for (std::size_t i = 0; i < start.size(); ++i) {
    if ((start[i] == '\0') != (i % 2 == high)) return false;
  }
  return true;
}

}  // namespace

Result<std::string> utf8_from(std::string bytes, const std::string& name) {
  if (bytes.starts_with("\xef\xbb\xbf")) {
    bytes.erase(0, 3);
    return bytes;
  }
  const bool marked = bytes.starts_with("\xff\xfe") || bytes.starts_with("\xfe\xff");
  const bool little = bytes.starts_with("\xff\xfe") || looks_like_utf16(bytes, 1);
  if (!marked && !little && !looks_like_utf16(bytes, 0)) return bytes;
  const auto unit = [&](std::size_t at) {
    const auto first = static_cast<unsigned char>(bytes[at]);
    const auto second = static_cast<unsigned char>(bytes[at + 1]);
    return static_cast<std::uint32_t>(little ? second << 8U | first : first << 8U | second);
  };
  std::string text;
  const auto half = [&] {
    return Error{ErrorKind::bad_input, "half a character of UTF-16 text",
                 name + ":" + std::to_string(1 + std::count(text.begin(), text.end(), '\n')),
                 "save the file as UTF-8"};
  };
  for (std::size_t at = marked ? 2 : 0; at + 1 < bytes.size(); at += 2) {
    std::uint32_t code = unit(at);
    if (code >= 0xd800 && code < 0xe000) {
      if (code >= 0xdc00 || at + 3 >= bytes.size()) return half();
      const std::uint32_t low = unit(at + 2);
      if (low < 0xdc00 || low >= 0xe000) return half();
      code = 0x10000 + ((code - 0xd800) << 10U) + (low - 0xdc00);
      at += 2;
    }
    append_utf8(text, code);
  }
  if (bytes.size() % 2 != 0) return half();
  return text;
}

std::string Csv::text(const CsvRecord& record, std::size_t column) const {
  if (column >= record.count) return {};
  const CgatsCell& cell = cells[record.first + column];
  const std::string_view inside = std::string_view(bytes).substr(cell.start, cell.length);
  if (cell.quoted == 0 || inside.find('"') == std::string_view::npos) return std::string(inside);
  std::string undone;
  for (std::size_t i = 0; i < inside.size(); ++i) {
    undone += inside[i];
    if (inside[i] == '"') ++i;
  }
  return undone;
}

Result<Csv> parse_csv(std::string_view utf8, char separator, std::size_t most_records,
                      const std::string& name) {
  if (utf8.size() > kMostFileBytes)
    return Error{ErrorKind::bad_input, "larger than the limit of 64 MB", name, "split the file"};
  if (const auto nul = utf8.find('\0'); nul != std::string_view::npos) {
    const auto lines = std::count(utf8.begin(), utf8.begin() + static_cast<std::ptrdiff_t>(nul), '\n');
    return Error{ErrorKind::bad_input, "a NUL byte: this is not text", name + ":" + std::to_string(lines + 1),
                 "export the file again as CSV"};
  }
  Csv csv;
  csv.bytes = std::string(utf8);
  Splitter splitter(csv, separator, name);
  if (auto fault = splitter.run(most_records)) return std::move(*fault);
  return csv;
}

}  // namespace kithue
