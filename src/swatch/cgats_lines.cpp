// SPDX-License-Identifier: MIT
#include "swatch/cgats_lines.h"

#include <algorithm>
#include <optional>
#include <string>
#include <utility>

namespace kithue {
namespace {

/// A line that a spreadsheet turned into one quoted cell: `"KEY ""value"""`. Gives what it was.
std::optional<std::string> unwrapped(std::string_view line) {
  while (!line.empty() && std::string_view(",;\t ").find(line.back()) != std::string_view::npos)
    line.remove_suffix(1);
  if (line.size() < 4 || line.front() != '"' || line.back() != '"') return std::nullopt;
  line = line.substr(1, line.size() - 2);
  std::string text;
  bool doubled = false;
  for (std::size_t i = 0; i < line.size(); ++i) {
    text += line[i];
    if (line[i] != '"') continue;
    if (i + 1 == line.size() || line[i + 1] != '"') return std::nullopt;
    doubled = true;
    ++i;
  }
  if (!doubled) return std::nullopt;
  return text;
}

}  // namespace

Line line_at(std::string_view bytes, std::size_t at) {
  const std::size_t end = std::min(bytes.find_first_of("\r\n", at), bytes.size());
  std::size_t next = end;
  if (next < bytes.size()) next += bytes.substr(next).starts_with("\r\n") ? 2 : 1;
  return {end, next};
}

void unwrap_lines(Cgats& file) {
  if (file.bytes.find("\"\"") == std::string::npos) return;
  std::string mended;
  std::size_t first = 0;
  std::size_t number = 0;
  for (std::size_t at = 0; at < file.bytes.size();) {
    const Line line = line_at(file.bytes, at);
    ++number;
    const std::string_view text = std::string_view(file.bytes).substr(at, line.end - at);
    const auto inner = unwrapped(text);
    mended += inner ? *inner : std::string(text);
    mended.append(file.bytes, line.end, line.next - line.end);
    if (inner && first == 0) first = number;
    at = line.next;
  }
  if (first == 0) return;
  file.bytes = std::move(mended);
  file.repairs.push_back("quotes doubled by a spreadsheet, from line " + std::to_string(first) +
                         " on, were put right");
}

}  // namespace kithue
