// SPDX-License-Identifier: MIT
#pragma once

#include <map>
#include <memory>
#include <string>
#include <utility>
#include <vector>

#include "sheet/shape.h"

namespace kithue {

/// Outlines of glyphs as SVG path data in thousandths of an em, y downwards, whole numbers.
/// Opens a font when it is first needed. Not for use from two threads at a time.
class GlyphOutlines {
 public:
  GlyphOutlines();
  ~GlyphOutlines();
  GlyphOutlines(const GlyphOutlines&) = delete;
  GlyphOutlines& operator=(const GlyphOutlines&) = delete;

  /// The glyphs of a line with its pen at (right, down), thousandths of an em; empty for a line of spaces.
  std::string path(const ShapedText& line, double right, double down);

 private:
  /// One drawing step: its letter and its coordinates, relative to the pen.
  struct Step {
    char letter = 'Z';
    std::vector<std::pair<double, double>> to;
  };
  struct Opened;
  const std::vector<Step>& steps(std::size_t font, unsigned glyph);

  std::unique_ptr<Opened> opened_;
  std::map<std::pair<std::size_t, unsigned>, std::vector<Step>> known_;
};

}  // namespace kithue
