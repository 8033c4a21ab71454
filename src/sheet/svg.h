// SPDX-License-Identifier: MIT
#pragma once

#include <string>

#include "sheet/outline.h"
#include "sheet/page.h"

namespace kithue {

/// The document as one SVG file at exact physical size, its pages one below the other. Letters are outlines,
/// so that it looks the same everywhere and asks for no font; the words lie over them unseen, to be searched,
/// copied and read aloud. Colours stand twice: as CSS lab() under D50, and as the nearest that an sRGB screen
/// shows for programs that do not know it. Pictures are inside, as PNG with their ICC profiles. No script, no
/// link, nothing loaded. The same document gives the same bytes.
/// Source: W3C SVG 2; CSS Color 4, section 9.
std::string svg_from(const Document& document);

/// How a drawing is written.
struct SvgPiece {
  GlyphOutlines& outlines;
  bool words = true;  ///< with the unseen words; without them it is a picture only
};
/// The content of one page, in millimetres, `down_mm` further down. Nothing but drawing elements.
std::string svg_of_page(const Document& document, const Page& page, const SvgPiece& how,
                        double down_mm = 0.0);
/// "<svg ...>" for a drawing of this size; `inside` are further attributes, with a space in front.
std::string svg_head(double width_mm, double height_mm, const std::string& inside);

/// The words of a block in reading order, as one text. Empty for an ornament.
std::string words_of(const Block& block);
/// A number in markup: at most 3 decimals.
std::string markup_number(double value);

}  // namespace kithue
