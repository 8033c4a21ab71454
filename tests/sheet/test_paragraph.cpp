// SPDX-License-Identifier: MIT
#include <doctest/doctest.h>

#include <string>

#include "base/text.h"
#include "sheet/paragraph.h"

using kithue::fit_text;
using kithue::Paragraph;
using kithue::TextFace;
using kithue::TextShaper;
using kithue::TextStyle;

namespace {

constexpr TextStyle kStyle{TextFace::regular, 3.0, 2.0, 2};

std::string all_text(const Paragraph& paragraph) {
  std::string text;
  for (const auto& line : paragraph.lines) text += line.text;
  return text;
}

}  // namespace

TEST_CASE("fit_text: a short name is one line at full size") {
  TextShaper shaper;
  const Paragraph fitted = fit_text(shaper, "Wet Sand", 40.0, kStyle);
  REQUIRE(fitted.lines.size() == 1);
  CHECK(fitted.size_mm == 3.0);
  CHECK_FALSE(fitted.cut);
}

TEST_CASE("fit_text: a long name breaks at a space and loses nothing") {
  TextShaper shaper;
  const Paragraph fitted = fit_text(shaper, "The Long Grey Morning Before The Tide", 40.0, kStyle);
  CHECK(fitted.lines.size() == 2);
  CHECK(fitted.size_mm == 3.0);
  CHECK(all_text(fitted) == "The Long Grey Morning Before The Tide");
}

TEST_CASE("fit_text: smaller type comes before a broken word") {
  TextShaper shaper;
  const Paragraph fitted = fit_text(shaper, "Meeresschaumgrauschimmern", 36.0, kStyle);
  CHECK(fitted.lines.size() == 1);
  CHECK(fitted.size_mm < 3.0);
  CHECK(fitted.size_mm >= 2.0);
}

TEST_CASE("fit_text: what is too long for the least size ends in an ellipsis") {
  TextShaper shaper;
  std::string name;
  for (int i = 0; i < 30; ++i) name += "harbour ";
  const Paragraph fitted = fit_text(shaper, name, 40.0, kStyle);
  CHECK(fitted.cut);
  CHECK(fitted.lines.size() == 2);
  CHECK(fitted.size_mm == 2.0);
  CHECK(all_text(fitted).ends_with("\xE2\x80\xA6"));
}

TEST_CASE("fit_text: no line is wider than the column, whatever the text") {
  TextShaper shaper;
  const std::string words[] = {"Wet", "Sand", "Meeresschaumgrau", "港の朝の色", "ساحل", "البحر",
                               "שחר", "ים",   "สีน้ำทะเล",          "नाव",        "Море", "gull-grey/white"};
  unsigned seed = 1;
  for (int round = 0; round < 400; ++round) {
    std::string text;
    const int count = 1 + round % 9;
    for (int i = 0; i < count; ++i) {
      seed = seed * 1664525U + 1013904223U;
      text += words[seed >> 16 & 0xFFFFU ? (seed >> 16) % 12 : 0] + (seed & 0x100U ? " " : "");
    }
    const double width = 12.0 + round % 40;
    const Paragraph fitted = fit_text(shaper, text, width, kStyle);
    CAPTURE(text);
    CHECK(fitted.lines.size() >= 1);
    CHECK(fitted.lines.size() <= 2);
    CHECK(fitted.size_mm >= 2.0);
    for (const auto& line : fitted.lines) CHECK(line.width * fitted.size_mm <= width + 1e-6);
  }
}

TEST_CASE("fit_text: nothing gives no line, and a megabyte is no trouble") {
  TextShaper shaper;
  CHECK(fit_text(shaper, "", 40.0, kStyle).lines.empty());
  CHECK(fit_text(shaper, " \n ", 40.0, kStyle).lines.empty());
  CHECK(fit_text(shaper, std::string(1 << 20, 'x'), 40.0, kStyle).cut);
}
