// SPDX-License-Identifier: MIT
#include "base/markup.h"

#include <cstddef>

#include "base/text.h"

namespace kithue {

std::string markup_text(std::string_view text) {
  const std::string clean = printable(text);
  std::string out;
  out.reserve(clean.size());
  for (std::size_t i = 0; i < clean.size(); ++i) {
    switch (clean[i]) {
      case '&':
        out += "&amp;";
        break;
      case '<':
        out += "&lt;";
        break;
      case '>':
        out += "&gt;";
        break;
      case '"':
        out += "&quot;";
        break;
      case '\'':
        out += "&#39;";
        break;
      default:
        out += clean[i];
        // U+FFFE and U+FFFF are the bytes EF BF BE and EF BF BF; U+FFFD, which takes their place, ends in BD.
        if (out.ends_with("\xEF\xBF\xBE") || out.ends_with("\xEF\xBF\xBF")) out.back() = '\xBD';
    }
  }
  return out;
}

std::string base64(std::string_view bytes) {
  constexpr std::string_view kDigits = "ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789+/";
  std::string out;
  out.reserve((bytes.size() + 2) / 3 * 4);
  for (std::size_t i = 0; i < bytes.size(); i += 3) {
    const auto byte = [&](std::size_t k) {
      return i + k < bytes.size() ? static_cast<unsigned>(static_cast<unsigned char>(bytes[i + k])) : 0U;
    };
    const unsigned group = byte(0) << 16 | byte(1) << 8 | byte(2);
    out += kDigits[group >> 18];
    out += kDigits[group >> 12 & 63U];
    out += i + 1 < bytes.size() ? kDigits[group >> 6 & 63U] : '=';
    out += i + 2 < bytes.size() ? kDigits[group & 63U] : '=';
  }
  return out;
}

}  // namespace kithue
