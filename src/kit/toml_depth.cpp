// SPDX-License-Identifier: MIT
#include "kit/toml_depth.h"

#include <algorithm>

namespace kithue {
namespace {

constexpr int kMostNested = 16;

/// One past the end of the string whose opening quotes stand at `at`. A string on one line ends at the line's
/// end at the latest: there the parser gives up.
std::size_t string_end(std::string_view toml, std::size_t at) {
  const char quote = toml[at];
  const bool long_form = toml.substr(at, 3) == (quote == '"' ? "\"\"\"" : "'''");
  const std::string_view closing = toml.substr(at, long_form ? 3 : 1);
  for (std::size_t i = at + closing.size(); i < toml.size(); ++i) {
    if (quote == '"' && toml[i] == '\\') {
      ++i;
    } else if (toml[i] == '\n' && !long_form) {
      return i;
    } else if (toml.substr(i, closing.size()) == closing) {
      // Up to two more quotes may belong to the text before the closing three.
      std::size_t end = i + closing.size();
      for (int more = 0; long_form && more < 2 && end < toml.size() && toml[end] == quote; ++more) ++end;
      return end;
    }
  }
  return toml.size();
}

}  // namespace

std::optional<std::size_t> too_deep_at(std::string_view toml) {
  std::size_t line = 1;
  int open = 0;
  int parts = 1;
  for (std::size_t i = 0; i < toml.size(); ++i) {
    const char c = toml[i];
    if (c == '"' || c == '\'') {
      const std::size_t end = string_end(toml, i);
      line += static_cast<std::size_t>(std::count(toml.begin() + static_cast<std::ptrdiff_t>(i),
                                                  toml.begin() + static_cast<std::ptrdiff_t>(end), '\n'));
      i = end - 1;
      continue;
    }
    if (c == '#') i = std::min(toml.find('\n', i), toml.size()) - 1;
    if (c == '\n') ++line;
    if (c == '\n' || c == '=' || c == ',' || c == '#') parts = 1;
    if (c == '[' || c == '{') {
      parts = 1;
      ++open;
    }
    if (c == ']' || c == '}') open = std::max(0, open - 1);
    if (c == '.') ++parts;
    if (open > kMostNested || parts > kMostNested) return line;
  }
  return std::nullopt;
}

}  // namespace kithue
