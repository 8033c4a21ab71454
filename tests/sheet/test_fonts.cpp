// SPDX-License-Identifier: MIT
#include <doctest/doctest.h>

#include <set>
#include <string>

#include "sheet/fonts.h"

namespace {

using kithue::EmbeddedFont;

unsigned word_at(const EmbeddedFont& font, std::size_t at) {
  REQUIRE(at + 2 <= font.bytes.size());
  return static_cast<unsigned>(font.bytes[at] << 8 | font.bytes[at + 1]);
}

/// Where a table of the font starts; 0 when there is none (OpenType 1.9, "Table directory").
std::size_t table_at(const EmbeddedFont& font, std::string_view tag) {
  const unsigned count = word_at(font, 4);
  for (std::size_t i = 0; i < count; ++i) {
    const std::size_t row = 12 + 16 * i;
    if (std::string_view(reinterpret_cast<const char*>(font.bytes.data() + row), 4) == tag)
      return (static_cast<std::size_t>(word_at(font, row + 8)) << 16) + word_at(font, row + 10);
  }
  return 0;
}

}  // namespace

TEST_CASE("embedded fonts: all have outlines that a PDF can hold as TrueType") {
  CHECK(kithue::embedded_fonts().size() > 30);
  for (const EmbeddedFont& font : kithue::embedded_fonts()) {
    CAPTURE(std::string(font.name));
    CHECK(table_at(font, "glyf") > 0);
  }
}

TEST_CASE("embedded fonts: none forbids embedding or cutting down") {
  // OS/2 fsType (OpenType 1.9): bit 1 restricted, bit 8 no subsetting, bit 9 bitmaps only.
  for (const EmbeddedFont& font : kithue::embedded_fonts()) {
    CAPTURE(std::string(font.name));
    const std::size_t os2 = table_at(font, "OS/2");
    REQUIRE(os2 > 0);
    CHECK((word_at(font, os2 + 8) & 0x0302U) == 0);
  }
}

TEST_CASE("embedded fonts: each name stands once and the sheet's own faces come first") {
  std::set<std::string_view> names;
  for (const EmbeddedFont& font : kithue::embedded_fonts()) CHECK(names.insert(font.name).second);
  CHECK(kithue::embedded_fonts()[0].name == "Lato-Regular");
  CHECK(kithue::embedded_fonts()[1].name == "Lato-Bold");
  CHECK(kithue::embedded_fonts()[2].name == "Lato-Light");
}
