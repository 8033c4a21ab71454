// SPDX-License-Identifier: MIT
#include "sheet/html.h"

#include <algorithm>

#include "base/markup.h"
#include "sheet/svg.h"

namespace kithue {
namespace {

/// Where the words of a block lie: over what is drawn of it.
struct Place {
  Bounds box{1e9, 1e9, -1e9, -1e9};
  double size_mm = 0.0;  ///< of its text; 0 when it has none
};

Place place_of(const Block& block) {
  Place place;
  for (const Drawing& item : block.items) {
    const Bounds one = bounds_of(item);
    place.box = {std::min(place.box.left, one.left), std::min(place.box.top, one.top),
                 std::max(place.box.right, one.right), std::max(place.box.bottom, one.bottom)};
    const auto* text = std::get_if<TextItem>(&item);
    if (text != nullptr && place.size_mm == 0.0) place.size_mm = text->size_mm;
  }
  return place;
}

std::string element_of(const Block& block) {
  switch (block.role) {
    case BlockRole::title:
      return "h1";
    case BlockRole::heading:
      return "h2";
    case BlockRole::paragraph:
      return "p";
    case BlockRole::figure:
      return "div";
    case BlockRole::ornament:
      return "";
  }
  return "";
}

std::string overlay(const Block& block) {
  const std::string element = element_of(block);
  if (element.empty() || block.items.empty()) return "";
  const Place place = place_of(block);
  const std::string box = "left:" + markup_number(place.box.left) + "mm;top:" + markup_number(place.box.top) +
                          "mm;width:" + markup_number(place.box.right - place.box.left) +
                          "mm;height:" + markup_number(place.box.bottom - place.box.top) + "mm";
  if (block.role == BlockRole::figure)
    return "<div role=\"img\" style=\"" + box + "\" aria-label=\"" + markup_text(block.words) + "\"></div>\n";
  return "<" + element + " dir=\"auto\" style=\"" + box + ";font-size:" + markup_number(place.size_mm) +
         "mm\">" + markup_text(words_of(block)) + "</" + element + ">\n";
}

std::string style_of(const Document& document) {
  const std::string width = markup_number(document.width_mm) + "mm";
  const std::string height = markup_number(document.height_mm) + "mm";
  return "@page{size:" + width + " " + height +
         ";margin:0}\n"
         "html{background:#e9e7e3}\n"
         "body{margin:0}\n"
         "section{position:relative;width:" +
         width + ";height:" + height +
         ";margin:8mm auto;background:#fff;overflow:hidden;box-shadow:0 .4mm 2mm #0003}\n"
         "svg{display:block}\n"
         "section>:not(svg){position:absolute;margin:0;overflow:hidden;color:transparent;"
         "font-family:sans-serif;font-weight:normal;line-height:1.25}\n"
         "@media print{html{background:none}section{margin:0;box-shadow:none;break-after:page}"
         "section:last-child{break-after:auto}}\n";
}

}  // namespace

std::string html_from(const Document& document) {
  GlyphOutlines outlines;
  const std::string language = markup_text(document.language);
  std::string out =
      "<!DOCTYPE html>\n<html xmlns=\"http://www.w3.org/1999/xhtml\" lang=\"" + language +
      "\">\n<head>\n<meta charset=\"utf-8\"/>\n"
      "<meta http-equiv=\"Content-Security-Policy\" content=\"default-src 'none'; style-src "
      "'unsafe-inline'; img-src data:\"/>\n"
      "<meta name=\"referrer\" content=\"no-referrer\"/>\n<meta name=\"viewport\" content=\"width=880\"/>\n"
      "<title>" +
      markup_text(document.title) + "</title>\n<style>\n" + style_of(document) +
      "</style>\n</head>\n<body>\n";
  for (std::size_t i = 0; i < document.pages.size(); ++i) {
    const Page& page = document.pages[i];
    out += "<section aria-label=\"Page " + std::to_string(i + 1) + "\">\n" +
           svg_head(document.width_mm, document.height_mm, " aria-hidden=\"true\"") +
           svg_of_page(document, page, {outlines, false}) + "</svg>\n";
    for (const Block& block : page.blocks) out += overlay(block);
    out += "</section>\n";
  }
  return out + "</body>\n</html>\n";
}

}  // namespace kithue
