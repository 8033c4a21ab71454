// SPDX-License-Identifier: MIT
#pragma once

#include <cstddef>
#include <string_view>
#include <vector>

#include "sheet/shape.h"

namespace kithue {

/// How text is fitted into a column.
struct TextStyle {
  TextFace face = TextFace::regular;
  double size_mm = 3.0;        ///< one em
  double least_mm = 2.4;       ///< never smaller than this; at most size_mm
  std::size_t most_lines = 2;  ///< 1 or more
};

/// The lines of a text, and the size at which they fit.
struct Paragraph {
  std::vector<ShapedText> lines;
  double size_mm = 0.0;
  bool cut = false;  ///< something was left out, and an ellipsis says so
};

/// Breaks the text into lines of at most `width_mm`: at spaces and hyphens, inside a word only when it alone
/// is wider than the column. Too long for the lines allowed: the type shrinks to the least size, and what is
/// still too long ends in an ellipsis. No line is ever wider than the column. REQUIRES: width_mm above 0.
Paragraph fit_text(TextShaper& shaper, std::string_view utf8, double width_mm, const TextStyle& style);

}  // namespace kithue
