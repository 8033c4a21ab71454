// SPDX-License-Identifier: MIT
#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>
#include <sstream>
#include <string>
#include <vector>

#include "colour/srgb.h"
#include "sheet/colour_map.h"
#include "sheet/html.h"
#include "sheet/kit_sheet.h"
#include "sheet/layout_check.h"
#include "sheet/outside.h"
#include "sheet/pattern_strip.h"
#include "sheet/pdf.h"
#include "sheet/student_page.h"
#include "sheet/svg.h"
#include "sheet/swatch_sheet.h"

namespace {

using namespace kithue;
using namespace kithue_test;

/// Every kind of sheet with this text in every field, as one document.
Document all_kinds(const std::string& text) {
  const SheetDot dot{text, text, Lab{50, 30, 20}};
  SheetFace face{text, 0, {{{70, 5, 5}, 1.0, text}}, {dot}, {dot}, "1"};
  SheetFace striped = face;
  striped.picture.reset();
  const std::vector<SheetPicture> pictures{grey_picture(8, 8)};
  SwatchSheet swatch{text, text, {dot}, {dot}, {face, striped}, pictures, text};
  Document all = lay_out_swatch_sheet(swatch, PageSize::a4);
  PatternStrip strip;
  strip.name = strip.date = strip.printer_note = text;
  strip.faces = {face, striped};
  strip.solids = {dot, {text, text, std::nullopt}};
  strip.pictures = pictures;
  append(all, lay_out_pattern_strip(strip, PageSize::a4));
  Card card{text, 1};
  CardPiece piece{text, text, text, text};
  piece.width_mm = piece.height_mm = 90.0;
  piece.lab = Lab{80, 0, 5};
  card.pieces = {piece};
  card.stamps = {{0, text, text, text, text, Lab{20, 0, 0}}};
  append(all, lay_out_kit_sheet({text, text, {card}, {{dot, text, text}}, pictures, text}, PageSize::a4));
  append(all, lay_out_colour_map({text, text, {{{50, 10, 10}, 0.5}}, {dot}, text}, PageSize::a4));
  append(all,
         lay_out_student_page({text, text, text, {{dot, StudentInk::Use::stand_in, dot, text, text}}, text},
                              PageSize::a4));
  all.language = "en-GB";
  return all;
}

/// The parsed tree as libxml2 sees it, without texts: "ELEMENT svg", "ATTRIBUTE width", one a line. Parsing
/// fails the test when the page is not well-formed.
std::string tree_of(const TestFolder& folder, const std::string& page) {
  std::istringstream lines(output_of("xmllint --nonet --debug " + folder.put("page.xml", page)));
  std::string tree;
  for (std::string line; std::getline(lines, line);) {
    const std::size_t at = line.find_first_not_of(' ');
    if (at == std::string::npos) continue;
    const std::string_view rest = std::string_view(line).substr(at);
    if (rest.starts_with("ELEMENT ") || rest.starts_with("ATTRIBUTE ")) tree += line + "\n";
  }
  return tree;
}

std::vector<std::string> injections() {
  const std::vector<std::string> bases{"<script>alert(1)</script>",
                                       "<img src=x onerror=alert(1)>",
                                       "</title><script>1</script>",
                                       "</style><b>",
                                       "</svg><iframe src=//x>",
                                       "<svg onload=alert(1)>",
                                       "\" onload=\"alert(1)",
                                       "' onload='x",
                                       "]]>",
                                       "<![CDATA[x",
                                       "<!--",
                                       "--><b>",
                                       "<?xml version='1.0'?>",
                                       "<!DOCTYPE x [<!ENTITY y 'z'>]>",
                                       "&y;",
                                       "&#60;b&#62;",
                                       "&lt;b&gt;",
                                       "javascript:alert(1)",
                                       "url(http://x/)",
                                       "@import 'x';",
                                       "\xE2\x80\xAE<b>",
                                       "\x1b[31m<i>",
                                       "\xEF\xBF\xBE<u>",
                                       "\xFF\xFE<a>",
                                       "<a href=data:text/html,x>"};
  const std::vector<std::pair<std::string, std::string>> around{
      {"", ""}, {"x", ""}, {"", "x"}, {"\"", "\""}, {"'", "'"}, {">", "<"}, {"&", ";"}, {"</p>", "<p>"}};
  std::vector<std::string> all;
  for (const std::string& base : bases) {
    for (const auto& [before, after] : around) all.push_back(before + base + after);
  }
  return all;
}

}  // namespace

TEST_CASE("html and svg: 200 injections in every text field leave the parsed tree as it is") {
  const TestFolder folder;
  const Document plain = all_kinds("Harbour Morning");
  const std::string html_tree = tree_of(folder, html_from(plain));
  const std::string svg_tree = tree_of(folder, svg_from(plain));
  CHECK(std::count(html_tree.begin(), html_tree.end(), '\n') > 500);
  const std::vector<std::string> strings = injections();
  REQUIRE(strings.size() == 200);
  for (std::size_t i = 0; i < strings.size(); ++i) {
    CAPTURE(strings[i]);
    const Document document = all_kinds(strings[i]);
    REQUIRE(document.pages.size() == plain.pages.size());
    CHECK(tree_of(folder, html_from(document)) == html_tree);
    // The same drawing and the same escapes: one form of each string is enough.
    if (i % 8 == 3) CHECK(tree_of(folder, svg_from(document)) == svg_tree);
  }
}

TEST_CASE("html: nothing in it asks for anything, and the content policy forbids it") {
  const std::string html = html_from(all_kinds("Harbour Morning"));
  CHECK(html.find("http-equiv=\"Content-Security-Policy\" content=\"default-src 'none'; style-src "
                  "'unsafe-inline'; img-src data:\"") != std::string::npos);
  for (const char* word : {"<script", "<link", "<iframe", "<object", "<embed", "<base", "src=", "url(",
                           "@import", "onload", "<foreignObject", "xlink:", "<form"})
    CHECK_MESSAGE(html.find(word) == std::string::npos, word);
  std::size_t references = 0;
  for (std::size_t at = html.find("href="); at != std::string::npos; at = html.find("href=", at + 1)) {
    CHECK(html.compare(at, 27, "href=\"data:image/png;base64") == 0);
    ++references;
  }
  CHECK(references > 0);
}

TEST_CASE("html: headings, paragraphs and pictures have their words, in reading order") {
  const Document document = lay_out_kit_sheet(
      {"Harbour Morning", "", {{"Gulls", 1, {{"base", "Sailcloth", "4 x 5 in"}}, {}}}, {}, {}, ""},
      PageSize::a4);
  const std::string html = html_from(document);
  std::size_t at = 0;
  for (const char* words :
       {"<h1", ">Harbour Morning</h1>", "<h2", ">Gulls</h2>",
        "aria-label=\"The card Gulls, drawn flat in its colours\"", ">base: Sailcloth</p>"}) {
    at = html.find(words, at);
    CHECK_MESSAGE(at != std::string::npos, words);
  }
}

TEST_CASE("svg: its size is that of the pages in millimetres, and each colour stands as Lab and as sRGB") {
  Document document;
  document.title = "T";
  document.pages.resize(2);
  const Lab lab{52.25, 43.5, -21.125};
  document.pages[0].blocks.push_back({BlockRole::ornament, "", {}});
  document.pages[0].blocks[0].items.emplace_back(CircleItem{30.0, 40.0, 10.0, lab_ink(lab), {}});
  const std::string svg = svg_from(document);
  CHECK(svg.find("width=\"210mm\" height=\"602mm\" viewBox=\"0 0 210 602\"") != std::string::npos);
  CHECK(svg.find("<circle cx=\"30\" cy=\"40\" r=\"10\" fill=\"" + hex_from_lab(lab) +
                 "\" style=\"fill:lab(52.25 43.5 -21.125)\"/>") != std::string::npos);
}

TEST_CASE("svg: the words of a ligature are all there to copy") {
  Document document;
  document.pages.resize(1);
  TextShaper shaper;
  document.pages[0].blocks.push_back({BlockRole::paragraph, "", {}});
  document.pages[0].blocks[0].items.emplace_back(
      TextItem{20.0, 20.0, 4.0, shaper.shape("office staff", TextFace::regular), grey_ink(0.0)});
  CHECK(svg_from(document).find(">office staff</text>") != std::string::npos);
  CHECK(html_from(document).find(">office staff</p>") != std::string::npos);
}

TEST_CASE("outlines: a line fills the room that its glyphs take") {
  TextShaper shaper;
  GlyphOutlines outlines;
  const ShapedText line = shaper.shape("HH", TextFace::regular);
  const std::string path = outlines.path(line, 0.0, 0.0);
  // Lato's H stands on the base line and is as high as its capitals, 1433 of 2000 units (its OS/2 table).
  double lowest = -1e9;
  double highest = 1e9;
  double right = 0.0;
  std::string spaced;
  for (const char c : path) spaced += std::isalpha(static_cast<unsigned char>(c)) != 0 ? ' ' : c;
  std::istringstream numbers(spaced);
  for (double x = 0.0, y = 0.0; numbers >> x >> y;) {
    lowest = std::max(lowest, y);
    highest = std::min(highest, y);
    right = std::max(right, x);
  }
  CHECK(lowest == 0.0);
  CHECK(std::abs(highest + 716.5) <= 12.0);
  CHECK(right < line.width * 1000.0);
  CHECK(right > line.width * 900.0);
}

TEST_CASE("pdf: every kind is sound, tagged, and reads in order") {
  const TestFolder folder;
  const Result<std::string> pdf = pdf_from(all_kinds("Harbour Morning"));
  REQUIRE(pdf.has_value());
  const std::string path = folder.put("all.pdf", *pdf);
  CHECK(output_of("qpdf --check " + path).find("No syntax or stream encoding errors") != std::string::npos);
  const std::string info = output_of("pdfinfo " + path);
  CHECK(info.find("Tagged:          yes") != std::string::npos);
  CHECK(info.find("Title:           Harbour Morning") != std::string::npos);
  const std::string structure = output_of("pdfinfo -struct-text " + path);
  for (const char* part : {"H1", "H2", "Figure", "Harbour Morning"})
    CHECK_MESSAGE(structure.find(part) != std::string::npos, part);
  const std::string fonts = output_of("pdffonts " + path);
  std::istringstream lines(fonts);
  std::string line;
  std::getline(lines, line);
  std::getline(lines, line);
  int embedded = 0;
  while (std::getline(lines, line)) {
    CHECK_MESSAGE(line.find("yes yes yes") != std::string::npos, line);  // embedded, subset, to Unicode
    ++embedded;
  }
  CHECK(embedded >= 2);
}

TEST_CASE("pdf: Hangul prints, copies, and joins when it is spelt letter by letter") {
  TextShaper shaper;
  const ShapedText whole = shaper.shape("항구의 아침", TextFace::regular);
  CHECK(whole.missing == 0);
  // The same two syllables as conjoining letters (Unicode Standard, section 3.12): one glyph a syllable.
  const ShapedText spelt = shaper.shape("\u1112\u1161\u11BC\u1100\u116E", TextFace::regular);
  CHECK(spelt.missing == 0);
  REQUIRE(spelt.glyphs.size() == 2);
  CHECK(spelt.glyphs[0].id == whole.glyphs[0].id);
  CHECK(spelt.glyphs[1].id == whole.glyphs[1].id);
  Document document;
  document.title = "T";
  document.pages.resize(1);
  document.pages[0].blocks.push_back({BlockRole::paragraph, "", {}});
  document.pages[0].blocks[0].items.emplace_back(TextItem{20.0, 20.0, 4.0, whole, grey_ink(0.0)});
  const TestFolder folder;
  const Result<std::string> pdf = pdf_from(document);
  REQUIRE(pdf.has_value());
  CHECK(output_of("pdftotext " + folder.put("hangul.pdf", *pdf) + " -").find("항구의 아침") !=
        std::string::npos);
}
