// SPDX-License-Identifier: MIT
#include <doctest/doctest.h>

#include <cmath>
#include <string>

#include "sheet/shape.h"

using kithue::Glyph;
using kithue::ShapedText;
using kithue::TextFace;
using kithue::TextShaper;

namespace {

std::string visual_text(const ShapedText& shaped) {
  std::string text;
  for (const Glyph& glyph : shaped.glyphs) text += glyph.text;
  return text;
}

std::string font_of(const ShapedText& shaped) {
  return std::string(kithue::embedded_fonts()[shaped.glyphs.at(0).font].name);
}

}  // namespace

TEST_CASE("shape: a ligature is one letter form that stands for all its letters") {
  TextShaper shaper;
  const ShapedText shaped = shaper.shape("ffi", TextFace::regular);
  CHECK(shaped.glyphs.size() < 3);
  CHECK(visual_text(shaped) == "ffi");
}

TEST_CASE("shape: pairs are kerned") {
  TextShaper shaper;
  const double apart =
      shaper.shape("A", TextFace::regular).width + shaper.shape("V", TextFace::regular).width;
  CHECK(shaper.shape("AV", TextFace::regular).width < apart - 0.01);
}

TEST_CASE("shape: Hebrew stands from right to left, its text in reading order") {
  TextShaper shaper;
  const ShapedText shaped = shaper.shape("שלום", TextFace::regular);
  CHECK(shaped.right_to_left);
  CHECK(shaped.text == "שלום");
  CHECK(visual_text(shaped) == "םולש");
}

TEST_CASE("shape: Arabic letters join") {
  TextShaper shaper;
  const ShapedText joined = shaper.shape("بب", TextFace::regular);
  const ShapedText alone = shaper.shape("ب", TextFace::regular);
  REQUIRE(joined.glyphs.size() >= 2);
  CHECK(joined.glyphs.front().id != alone.glyphs.front().id);
}

TEST_CASE("shape: numbers and Latin words keep their direction inside a Hebrew line") {
  TextShaper shaper;
  const std::string seen = visual_text(shaper.shape("שלום AB 12", TextFace::regular));
  CHECK(seen.find("AB 12") != std::string::npos);
  CHECK(seen.find("AB 12") < seen.find("ם"));
}

TEST_CASE("shape: a vowel sign that is drawn first still reads after its consonant") {
  TextShaper shaper;
  const ShapedText shaped = shaper.shape("कि", TextFace::regular);
  CHECK(visual_text(shaped) == "कि");
  CHECK(shaped.glyphs.front().cluster_size == shaped.glyphs.size());
}

TEST_CASE("shape: every script of the list finds a font") {
  TextShaper shaper;
  const std::pair<const char*, const char*> kScripts[] = {{"Sand", "Lato-Regular"},
                                                          {"Море", "Lato-Regular"},
                                                          {"Θάλασσα", "Lato-Regular"},
                                                          {"بحر", "NotoSansArabic-Regular"},
                                                          {"ים", "NotoSansHebrew-Regular"},
                                                          {"समुद्र", "NotoSansDevanagari-Regular"},
                                                          {"ทะเล", "NotoSansThai-Regular"},
                                                          {"ծով", "NotoSansArmenian-Regular"},
                                                          {"ზღვა", "NotoSansGeorgian-Regular"},
                                                          {"সাগর", "NotoSansBengali-Regular"},
                                                          {"கடல்", "NotoSansTamil-Regular"},
                                                          {"ባሕር", "NotoSansEthiopic-Regular"},
                                                          {"海の色", "DroidSansFallbackFull"},
                                                          {"သမုဒ္ဒရာ", "NotoSansMyanmar-Regular"},
                                                          {"សមុទ្រ", "NotoSansKhmer-Regular"},
                                                          {"མཚོ", "NotoSerifTibetan-Regular"}};
  for (const auto& [text, font] : kScripts) {
    const std::string written = text;
    CAPTURE(written);
    const ShapedText shaped = shaper.shape(written, TextFace::regular);
    CHECK(shaped.missing == 0);
    CHECK(font_of(shaped) == font);
    for (const Glyph& glyph : shaped.glyphs) CHECK(glyph.id != 0);
  }
}

TEST_CASE("shape: a character that no font has is counted and drawn as a box") {
  TextShaper shaper;
  const ShapedText shaped = shaper.shape("a\xF3\xB0\x80\x80", TextFace::regular);  // U+F0000, private use
  CHECK(shaped.missing == 1);
  CHECK(shaped.glyphs.back().id == 0);
}

TEST_CASE("shape: control characters and malformed bytes never reach the page") {
  TextShaper shaper;
  CHECK(shaper.shape("a\nb\x01", TextFace::regular).text == "a b ");
  CHECK(shaper.shape("a\xFF", TextFace::regular).text == "a\xEF\xBF\xBD");
  CHECK(shaper.shape("\xE2\x82", TextFace::regular).text == "\xEF\xBF\xBD\xEF\xBF\xBD");
  CHECK(shaper.shape("", TextFace::regular).glyphs.empty());
}

TEST_CASE("shape: the width is the sum of the advances") {
  TextShaper shaper;
  for (const char* text : {"Harbour Morning", "ساحل البحر", "港の朝", "Gull שלום 12"}) {
    const ShapedText shaped = shaper.shape(text, TextFace::light);
    double sum = 0.0;
    for (const Glyph& glyph : shaped.glyphs) sum += glyph.advance;
    CHECK(std::abs(sum - shaped.width) < 1e-12);
  }
}
