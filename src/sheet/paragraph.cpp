// SPDX-License-Identifier: MIT
#include "sheet/paragraph.h"

#include <algorithm>

#include "base/text.h"

namespace kithue {
namespace {

constexpr std::string_view kEllipsis = "\xE2\x80\xA6";
constexpr double kSlack = 1e-9;

/// Where the line that starts at step `begin` ends (one past its last step) in a column of `width` ems.
/// Always takes at least one step.
std::size_t line_end(const std::vector<TextStep>& steps, std::size_t begin, double width) {
  double used = 0.0;
  std::size_t at = begin;
  std::size_t good = begin;
  for (; at < steps.size(); ++at) {
    // White space at the end of a line hangs over without taking room.
    if (!steps[at].space && used + steps[at].advance > width + kSlack) break;
    used += steps[at].advance;
    if (steps[at].may_break) good = at + 1;
  }
  if (at == steps.size()) return at;
  return good > begin ? good : std::max(at, begin + 1);
}

std::string_view slice(std::string_view text, const std::vector<TextStep>& steps, std::size_t begin,
                       std::size_t end) {
  const std::size_t from = begin == 0 ? 0 : steps[begin - 1].end;
  return trimmed(text.substr(from, steps[end - 1].end - from));
}

/// The line from `begin` shaped by itself, made shorter until it fits: at a line's end letters can change
/// their form and so their width.
ShapedText fitted_line(TextShaper& shaper, std::string_view text, const std::vector<TextStep>& steps,
                       std::size_t begin, std::size_t& end, double width, TextFace face,
                       std::string_view tail) {
  for (;; --end) {
    ShapedText line = shaper.shape(std::string(slice(text, steps, begin, end)) + std::string(tail), face);
    if (line.width <= width + kSlack || end == begin + 1) return line;
  }
}

struct Broken {
  std::vector<ShapedText> lines;
  bool all = false;    ///< the whole text went in
  bool words = false;  ///< a word had to be broken
};

/// The lines at one size, `width` in ems.
Broken break_lines(TextShaper& shaper, std::string_view text, const std::vector<TextStep>& steps,
                   double width, const TextStyle& style) {
  Broken result;
  std::vector<ShapedText>& lines = result.lines;
  std::size_t begin = 0;
  while (begin < steps.size() && lines.size() < style.most_lines) {
    std::size_t end = line_end(steps, begin, width);
    lines.push_back(fitted_line(shaper, text, steps, begin, end, width, style.face, {}));
    result.words = result.words || (end < steps.size() && !steps[end - 1].may_break);
    begin = end;
    while (begin < steps.size() && steps[begin].space) ++begin;
  }
  result.all = begin >= steps.size();
  for (const ShapedText& line : lines) result.all = result.all && line.width <= width + kSlack;
  return result;
}

/// At the least size: whole lines, then as much of the rest as leaves room for the ellipsis.
Paragraph cut_lines(TextShaper& shaper, std::string_view text, const std::vector<TextStep>& steps,
                    double width, const TextStyle& style) {
  Paragraph cut{{}, style.least_mm, true};
  std::size_t begin = 0;
  while (begin < steps.size()) {
    const bool last = cut.lines.size() + 1 == style.most_lines;
    std::size_t end = last ? steps.size() : line_end(steps, begin, width);
    if (last) {
      double used = 0.0;
      end = begin;
      while (end < steps.size() && used + steps[end].advance <= width) used += steps[end++].advance;
      end = std::max(end, begin + 1);
    }
    cut.lines.push_back(fitted_line(shaper, text, steps, begin, end, width, style.face,
                                    last ? kEllipsis : std::string_view{}));
    if (last) {
      // Not even one character beside the ellipsis: the ellipsis alone.
      if (cut.lines.back().width > width + kSlack) cut.lines.back() = shaper.shape(kEllipsis, style.face);
      break;
    }
    begin = end;
    while (begin < steps.size() && steps[begin].space) ++begin;
  }
  return cut;
}

/// Ends every line but the last in a space that takes no room, so that listeners and searches hear two words
/// where a line ends.
void part_lines(TextShaper& shaper, TextFace face, std::vector<ShapedText>& lines) {
  for (std::size_t i = 0; i + 1 < lines.size(); ++i) {
    ShapedText& line = lines[i];
    if (line.text.ends_with('-')) continue;
    Glyph space = shaper.shape(" ", face).glyphs.front();
    if (line.right_to_left) space.right = -space.advance;
    space.advance = 0.0;
    line.glyphs.insert(line.right_to_left ? line.glyphs.begin() : line.glyphs.end(), space);
    line.text += ' ';
  }
}

}  // namespace

Paragraph fit_text(TextShaper& shaper, std::string_view utf8, double width_mm, const TextStyle& style) {
  // Beyond this nothing could be shown anyway; it keeps the work in bounds.
  constexpr std::size_t kMostBytes = 4000;
  std::string text(trimmed(utf8));
  if (text.size() > kMostBytes) {
    std::size_t end = kMostBytes;
    while (end > 0 && (static_cast<unsigned char>(text[end]) & 0xC0U) == 0x80U) --end;
    text.resize(end);
    text += kEllipsis;
  }
  // One form of the text for measuring and for drawing.
  const std::string clean = shaper.shape(text, style.face).text;
  text = trimmed(clean);
  const std::vector<TextStep> steps = shaper.steps(text, style.face);
  if (steps.empty()) return {{}, style.size_mm, false};
  // Smaller type is better than a broken word, and a broken word better than a lost one.
  constexpr int kSizes = 4;
  for (const bool words : {false, true}) {
    for (int i = 0; i < kSizes; ++i) {
      const double size = style.size_mm + (style.least_mm - style.size_mm) * i / (kSizes - 1);
      Broken broken = break_lines(shaper, text, steps, width_mm / size, style);
      if (!broken.all || (broken.words && !words)) continue;
      if (!broken.words) part_lines(shaper, style.face, broken.lines);
      return {std::move(broken.lines), size, false};
    }
  }
  Paragraph cut = cut_lines(shaper, text, steps, width_mm / style.least_mm, style);
  part_lines(shaper, style.face, cut.lines);
  return cut;
}

}  // namespace kithue
