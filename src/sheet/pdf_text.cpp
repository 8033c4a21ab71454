// SPDX-License-Identifier: MIT
#include "sheet/pdf_text.h"

#include <cstdint>
#include <string>
#include <string_view>

namespace kithue {
namespace {

/// The characters of well-formed UTF-8, one string each.
std::vector<std::string> characters(std::string_view text) {
  std::vector<std::string> list;
  for (const char byte : text) {
    if ((static_cast<unsigned char>(byte) & 0xC0U) == 0x80U && !list.empty()) {
      list.back() += byte;
    } else {
      list.emplace_back(1, byte);
    }
  }
  return list;
}

/// True for letters of the scripts that run from right to left (Unicode 15, bidi classes R and AL by block).
bool runs_left(std::string_view character) {
  std::uint32_t point = static_cast<unsigned char>(character[0]);
  if (character.size() > 1) point &= 0x7FU >> character.size();
  for (const char byte : character.substr(1)) point = point << 6 | (static_cast<unsigned char>(byte) & 0x3FU);
  return (point >= 0x590 && point < 0x900) || (point >= 0xFB1D && point < 0xFE00) ||
         (point >= 0xFE70 && point < 0xFEFF) || (point >= 0x10800 && point < 0x11000) ||
         (point >= 0x1E800 && point < 0x1F000);
}

}  // namespace

PdfCluster pdf_cluster(std::span<const Glyph> cluster) {
  PdfCluster ready{{cluster.begin(), cluster.end()}, cluster.size() > 1};
  const std::vector<std::string> letters = characters(cluster.front().text);
  if (letters.size() < 2 || !runs_left(letters.front())) return ready;
  if (cluster.size() == letters.size()) {
    for (std::size_t i = 0; i < letters.size(); ++i) ready.glyphs[i].text = letters[letters.size() - 1 - i];
    ready.states_text = false;
  } else if (cluster.size() == 1) {
    Glyph unseen{cluster.front().font, kUnseenGlyph};
    ready.glyphs.front().text = letters.front();
    for (std::size_t i = 1; i < letters.size(); ++i) {
      unseen.text = letters[i];
      ready.glyphs.insert(ready.glyphs.begin(), unseen);
    }
  }
  return ready;
}

}  // namespace kithue
