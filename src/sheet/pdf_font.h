// SPDX-License-Identifier: MIT
#pragma once

#include <cstddef>
#include <map>
#include <string>
#include <utility>
#include <vector>

#include "base/result.h"
#include "sheet/pdf_objects.h"
#include "sheet/shape.h"

namespace kithue {

/// One embedded font as a PDF holds it: a TrueType subset with the glyphs that were used and nothing else.
/// Every pair of a glyph and the text it stands for has a code of its own, so that a ligature copies as its
/// letters and one letter form may stand for two texts.
/// Source: ISO 32000-1:2008, sections 9.7 (composite fonts) and 9.10.3 (ToUnicode).
class PdfFont {
 public:
  explicit PdfFont(std::size_t font) : font_(font) {}

  /// The two-byte code of the glyph for text shown with this font; kUnseenGlyph has one as well.
  unsigned code_of(const Glyph& glyph);
  /// How far the PDF moves after the code, in thousandths of an em, as it will be written.
  double width_of(unsigned code) const;

  /// Writes the font's objects. Errors: internal, when the subset cannot be made.
  MaybeError write(PdfObjects& objects, int number) const;

 private:
  std::size_t font_;
  std::map<std::pair<unsigned, std::string>, unsigned> codes_;
  std::vector<std::pair<unsigned, std::string>> by_code_;  ///< [code - 1] = glyph and text
  std::vector<double> widths_;
};

}  // namespace kithue
