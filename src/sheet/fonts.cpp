// SPDX-License-Identifier: MIT
#include "sheet/fonts.h"

// NOLINTBEGIN(bugprone-macro-parentheses): a name cannot stand in parentheses
#define KITHUE_FONT(symbol, name)                           \
  extern "C" const unsigned char kithue_##symbol##_begin[]; \
  extern "C" const unsigned char kithue_##symbol##_end[];
#include "embedded_fonts.inc"
#undef KITHUE_FONT
// NOLINTEND(bugprone-macro-parentheses)

namespace kithue {

std::span<const EmbeddedFont> embedded_fonts() {
#define KITHUE_FONT(symbol, name) {name, {kithue_##symbol##_begin, kithue_##symbol##_end}},
  static const EmbeddedFont kFonts[] = {
#include "embedded_fonts.inc"
  };
#undef KITHUE_FONT
  return kFonts;
}

}  // namespace kithue
