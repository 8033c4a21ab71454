// SPDX-License-Identifier: MIT
#include <cstddef>

#include "swatch/stash_file.h"

namespace kithue {
namespace {

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

}  // namespace kithue
