// SPDX-License-Identifier: MIT
#include "base/text.h"

#include <utf8proc.h>

#include <algorithm>
#include <charconv>
#include <cmath>
#include <cstdint>
#include <cstdlib>
#include <memory>

namespace kithue {
namespace {

constexpr utf8proc_int32_t kInvalid = -1;

/// Steps over one code point; an ill-formed byte gives kInvalid and a step of one.
utf8proc_int32_t next_code_point(std::string_view text, std::size_t& at) {
  utf8proc_int32_t code = kInvalid;
  const auto* bytes = reinterpret_cast<const utf8proc_uint8_t*>(text.data()) + at;
  const auto step = utf8proc_iterate(bytes, static_cast<utf8proc_ssize_t>(text.size() - at), &code);
  if (step <= 0) {
    ++at;
    return kInvalid;
  }
  at += static_cast<std::size_t>(step);
  return code;
}

std::vector<utf8proc_int32_t> code_points(std::string_view text) {
  std::vector<utf8proc_int32_t> points;
  points.reserve(text.size());
  for (std::size_t at = 0; at < text.size();) {
    const std::size_t start = at;
    const auto code = next_code_point(text, at);
    points.push_back(code == kInvalid ? -static_cast<unsigned char>(text[start]) - 1 : code);
  }
  return points;
}

bool is_hidden(utf8proc_int32_t code) {
  switch (utf8proc_category(code)) {
    case UTF8PROC_CATEGORY_CC:
    case UTF8PROC_CATEGORY_ZL:
    case UTF8PROC_CATEGORY_ZP:
    case UTF8PROC_CATEGORY_CS:
      return true;
    case UTF8PROC_CATEGORY_CF:
      // Zero-width joiners shape Indic and Arabic names and emoji; every other format character steers.
      return code != 0x200c && code != 0x200d;
    default:
      return false;
  }
}

std::string escaped(std::uint32_t code, bool raw_byte) {
  constexpr char kHex[] = "0123456789abcdef";
  const int digits = raw_byte || code < 0x80 ? 2 : code < 0x10000 ? 4 : 6;
  std::string text = digits == 2 ? "\\x" : digits == 4 ? "\\u" : "\\U";
  for (int shift = (digits - 1) * 4; shift >= 0; shift -= 4) text += kHex[(code >> shift) & 15U];
  return text;
}

struct FreeMemory {
  void operator()(utf8proc_uint8_t* memory) const { std::free(memory); }
};

}  // namespace

bool is_utf8(std::string_view text) {
  for (std::size_t at = 0; at < text.size();) {
    if (next_code_point(text, at) == kInvalid) return false;
  }
  return true;
}

std::string printable(std::string_view text) {
  std::string clean;
  clean.reserve(text.size());
  for (std::size_t at = 0; at < text.size();) {
    const std::size_t start = at;
    const auto code = next_code_point(text, at);
    if (code == kInvalid) {
      clean += escaped(static_cast<unsigned char>(text[start]), true);
    } else if (is_hidden(code)) {
      clean += escaped(static_cast<std::uint32_t>(code), false);
    } else {
      clean += text.substr(start, at - start);
    }
  }
  return clean;
}

std::string json_printable(std::string_view json) {
  const auto unit = [](std::uint32_t code) {
    std::string text = escaped(code, false);
    return text.starts_with("\\x") ? "\\u00" + text.substr(2) : text;
  };
  std::string clean;
  clean.reserve(json.size());
  for (std::size_t at = 0; at < json.size();) {
    const std::size_t start = at;
    const auto code = next_code_point(json, at);
    if (code == '\n' || code == kInvalid || !is_hidden(code)) {
      clean += json.substr(start, at - start);
    } else if (code < 0x10000) {
      clean += unit(static_cast<std::uint32_t>(code));
    } else {  // a surrogate pair, RFC 8259 section 7
      const auto above = static_cast<std::uint32_t>(code) - 0x10000U;
      clean += unit(0xD800U + (above >> 10U)) + unit(0xDC00U + (above & 0x3FFU));
    }
  }
  return clean;
}

std::size_t display_width(std::string_view utf8) {
  std::size_t columns = 0;
  for (std::size_t at = 0; at < utf8.size();) {
    const auto code = next_code_point(utf8, at);
    columns += code == kInvalid ? 1 : static_cast<std::size_t>(std::max(0, utf8proc_charwidth(code)));
  }
  return columns;
}

std::string cut_to_width(std::string_view utf8, std::size_t columns) {
  if (display_width(utf8) <= columns) return std::string(utf8);
  if (columns == 0) return {};
  std::size_t used = 0;
  std::size_t at = 0;
  while (at < utf8.size()) {
    std::size_t next = at;
    const auto code = next_code_point(utf8, next);
    const auto width = code == kInvalid ? 1U : static_cast<unsigned>(std::max(0, utf8proc_charwidth(code)));
    if (used + width > columns - 1) break;
    used += width;
    at = next;
  }
  return std::string(utf8.substr(0, at)) + "…";
}

std::string folded(std::string_view utf8) {
  std::string key;
  if (std::all_of(utf8.begin(), utf8.end(), [](char c) { return static_cast<unsigned char>(c) < 0x80; })) {
    key.assign(utf8);
    for (char& c : key) {
      if (c >= 'A' && c <= 'Z') c = static_cast<char>(c - 'A' + 'a');
    }
  } else {
    utf8proc_uint8_t* mapped = nullptr;
    const auto length =
        utf8proc_map(reinterpret_cast<const utf8proc_uint8_t*>(utf8.data()),
                     static_cast<utf8proc_ssize_t>(utf8.size()), &mapped,
                     static_cast<utf8proc_option_t>(UTF8PROC_COMPAT | UTF8PROC_DECOMPOSE | UTF8PROC_CASEFOLD |
                                                    UTF8PROC_STRIPMARK | UTF8PROC_IGNORE));
    const std::unique_ptr<utf8proc_uint8_t, FreeMemory> owner(mapped);
    if (length < 0) return std::string(utf8);
    key.assign(reinterpret_cast<const char*>(mapped), static_cast<std::size_t>(length));
  }
  std::string squeezed;
  bool gap = false;
  for (std::size_t at = 0; at < key.size();) {
    const std::size_t start = at;
    const auto code = next_code_point(key, at);
    const bool space = code == ' ' || (code >= 9 && code <= 13) ||
                       (code != kInvalid && utf8proc_category(code) == UTF8PROC_CATEGORY_ZS);
    if (space) {
      gap = !squeezed.empty();
      continue;
    }
    if (gap) squeezed += ' ';
    gap = false;
    squeezed.append(key, start, at - start);
  }
  return squeezed;
}

std::size_t edit_distance(std::string_view a, std::string_view b) {
  const auto from = code_points(a);
  const auto to = code_points(b);
  std::vector<std::size_t> before(to.size() + 1);
  std::vector<std::size_t> above(to.size() + 1);
  std::vector<std::size_t> row(to.size() + 1);
  for (std::size_t j = 0; j <= to.size(); ++j) above[j] = j;
  for (std::size_t i = 1; i <= from.size(); ++i) {
    row[0] = i;
    for (std::size_t j = 1; j <= to.size(); ++j) {
      const std::size_t change = above[j - 1] + (from[i - 1] == to[j - 1] ? 0 : 1);
      row[j] = std::min({above[j] + 1, row[j - 1] + 1, change});
      if (i > 1 && j > 1 && from[i - 1] == to[j - 2] && from[i - 2] == to[j - 1]) {
        row[j] = std::min(row[j], before[j - 2] + 1);
      }
    }
    std::swap(before, above);
    std::swap(above, row);
  }
  return above[to.size()];
}

std::vector<std::string> near_spellings(std::string_view typed, const std::vector<std::string>& known) {
  const std::string key = folded(typed);
  const std::size_t most = code_points(key).size() < 5 ? 1 : 2;
  struct Near {
    std::size_t distance;
    std::size_t index;
  };
  std::vector<Near> near;
  for (std::size_t i = 0; i < known.size(); ++i) {
    const std::string other = folded(known[i]);
    // A length more than four bytes an edit apart cannot be within reach: skip the table.
    if (other.size() > key.size() + 4 * most || key.size() > other.size() + 4 * most) continue;
    const std::size_t distance = edit_distance(key, other);
    if (distance <= most) near.push_back({distance, i});
  }
  std::stable_sort(near.begin(), near.end(),
                   [](const Near& x, const Near& y) { return x.distance < y.distance; });
  std::vector<std::string> names;
  for (const Near& one : near) {
    if (names.size() == 3) break;
    if (std::find(names.begin(), names.end(), known[one.index]) == names.end()) {
      names.push_back(known[one.index]);
    }
  }
  return names;
}

std::optional<double> parse_number(std::string_view text) {
  if (!text.empty() && text.front() == '+') {
    text.remove_prefix(1);
    if (!text.empty() && text.front() == '-') return std::nullopt;
  }
  double value = 0.0;
  const auto [end, fault] = std::from_chars(text.data(), text.data() + text.size(), value);
  if (fault != std::errc() || end != text.data() + text.size() || !std::isfinite(value)) return std::nullopt;
  return value;
}

std::optional<long long> parse_whole(std::string_view text) {
  long long value = 0;
  const auto [end, fault] = std::from_chars(text.data(), text.data() + text.size(), value);
  if (fault != std::errc() || end != text.data() + text.size()) return std::nullopt;
  return value;
}

std::string exact_number(double value) {
  if (value == 0.0) return "0";
  char buffer[64];
  const auto [end, fault] = std::to_chars(buffer, buffer + sizeof buffer, value);
  return fault == std::errc() ? std::string(buffer, end) : std::string("0");
}

std::string fixed_number(double value, int decimals) {
  char buffer[400];
  const auto [end, fault] =
      std::to_chars(buffer, buffer + sizeof buffer, value, std::chars_format::fixed, decimals);
  if (fault != std::errc()) return exact_number(value);
  std::string text(buffer, end);
  if (text.front() == '-' && text.find_first_not_of("-0.") == std::string::npos) text.erase(0, 1);
  return text;
}

std::string_view trimmed(std::string_view text) {
  constexpr std::string_view kSpace = " \t\r\n\v\f";
  const auto first = text.find_first_not_of(kSpace);
  if (first == std::string_view::npos) return {};
  return text.substr(first, text.find_last_not_of(kSpace) - first + 1);
}

std::vector<std::string_view> split(std::string_view text, char separator) {
  std::vector<std::string_view> parts;
  for (;;) {
    const auto at = text.find(separator);
    parts.push_back(text.substr(0, at));
    if (at == std::string_view::npos) return parts;
    text.remove_prefix(at + 1);
  }
}

std::string joined(const std::vector<std::string>& parts, std::string_view between) {
  std::string all;
  for (const std::string& part : parts) {
    if (&part != &parts.front()) all += between;
    all += part;
  }
  return all;
}

std::string counted(std::size_t count, std::string_view noun) {
  return std::to_string(count) + " " + std::string(noun) + (count == 1 ? "" : "s");
}

}  // namespace kithue
