// SPDX-License-Identifier: MIT
#pragma once

#include <cstddef>
#include <memory>
#include <string>
#include <string_view>
#include <vector>

#include "sheet/fonts.h"

namespace kithue {

/// One drawn letter form. Lengths are in ems: times the type size they are lengths on the page.
struct Glyph {
  std::size_t font = 0;  ///< index into embedded_fonts()
  unsigned id = 0;       ///< glyph number in that font
  double advance = 0.0;  ///< how far the pen moves to the right afterwards
  double right = 0.0;    ///< drawn this far right of the pen
  double up = 0.0;       ///< drawn this far above the base line
  std::string text;  ///< the characters it stands for; empty when an earlier glyph of its cluster has them
  std::size_t cluster = 0;       ///< glyphs with the same number stand together for one piece of text
  std::size_t cluster_size = 1;  ///< how many glyphs the cluster has
};

/// A line of text ready to draw, glyphs from left to right.
struct ShapedText {
  std::string text;  ///< the characters, in reading order
  std::vector<Glyph> glyphs;
  double width = 0.0;  ///< in ems
  bool right_to_left = false;
  std::size_t missing = 0;  ///< characters that no font has: drawn as an empty box
};

/// A place in a text between two clusters, with the width of what stands before it since the last place.
struct TextStep {
  std::size_t end = 0;     ///< byte offset after the cluster
  double advance = 0.0;    ///< of the cluster, in ems
  bool space = false;      ///< the cluster is white space
  bool may_break = false;  ///< a line may end after it
};

/// Turns text into glyphs: bidirectional order, a font for every character, ligatures, kerning, marks.
/// Source: Unicode Standard Annex 9 (by FriBidi), OpenType shaping (by HarfBuzz).
/// Opens a font when it is first needed. Not for use from two threads at a time.
class TextShaper {
 public:
  TextShaper();
  ~TextShaper();
  TextShaper(const TextShaper&) = delete;
  TextShaper& operator=(const TextShaper&) = delete;

  /// Any UTF-8; control characters come out as spaces, malformed bytes as U+FFFD.
  ShapedText shape(std::string_view utf8, TextFace face);

  /// The clusters of the text in reading order, for breaking lines.
  std::vector<TextStep> steps(std::string_view utf8, TextFace face);

 private:
  struct Fonts;
  std::unique_ptr<Fonts> fonts_;
};

}  // namespace kithue
