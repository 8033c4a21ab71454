// SPDX-License-Identifier: MIT
#include "sheet/svg.h"

#include <algorithm>
#include <cmath>

#include "base/markup.h"
#include "base/text.h"
#include "colour/css.h"
#include "colour/srgb.h"
#include "sheet/picture_rows.h"

namespace kithue {
namespace {

constexpr double kPageGap = 8.0;  // mm between the pages of one file
constexpr int kLabDecimals = 3;

std::string attribute(const char* name, double value) {
  return std::string(" ") + name + "=\"" + markup_number(value) + "\"";
}

std::string grey_hex(double grey) {
  const auto level = static_cast<unsigned char>(std::lround(255.0 * std::clamp(grey, 0.0, 1.0)));
  constexpr std::string_view kDigits = "0123456789abcdef";
  const std::string two{kDigits[level >> 4U], kDigits[level & 15U]};
  return "#" + two + two + two;
}

/// ` fill="#758147" style="fill:lab(52 -12 30)"`; the second wins where it is understood.
class Paint {
 public:
  void set(const char* name, const Ink& ink) {
    if (ink.kind == Ink::Kind::none) {
      plain_ += std::string(" ") + name + "=\"none\"";
    } else if (ink.kind == Ink::Kind::grey) {
      plain_ += std::string(" ") + name + "=\"" + grey_hex(ink.grey) + "\"";
    } else {
      plain_ += std::string(" ") + name + "=\"" + hex_from_lab(ink.lab) + "\"";
      style_ += (style_.empty() ? "" : ";") + std::string(name) + ":" + css_lab(ink.lab, kLabDecimals);
    }
  }
  void set(const Stroke& stroke) {
    if (stroke.ink.kind == Ink::Kind::none) return;
    set("stroke", stroke.ink);
    plain_ += attribute("stroke-width", stroke.width_mm);
    if (stroke.dash_mm > 0) plain_ += attribute("stroke-dasharray", stroke.dash_mm);
  }
  [[nodiscard]] std::string text() const {
    return plain_ + (style_.empty() ? "" : " style=\"" + style_ + "\"");
  }

 private:
  std::string plain_;
  std::string style_;
};

std::string paint(const Ink& fill, const Stroke& stroke) {
  Paint made;
  made.set("fill", fill);
  made.set(stroke);
  return made.text();
}

/// Draws the items of one block. Lines of text that follow each other in one size and colour become one
/// path, so that how a name breaks into lines does not change what elements there are.
class BlockWriter {
 public:
  BlockWriter(const Document& document, GlyphOutlines& outlines, double down)
      : document_(document), outlines_(outlines), down_(down) {}

  void operator()(const TextItem& text) {
    if (!first_ || first_->size_mm != text.size_mm || !(first_->ink == text.ink)) {
      flush();
      first_ = &text;
    }
    const double units = 1000.0 / text.size_mm;
    letters_ += outlines_.path(text.line, (text.x_mm - first_->x_mm) * units,
                               (text.baseline_mm - first_->baseline_mm) * units);
  }
  void operator()(const CircleItem& circle) {
    flush();
    out += "<circle" + attribute("cx", circle.x_mm) + attribute("cy", circle.y_mm + down_) +
           attribute("r", circle.radius_mm) + paint(circle.fill, circle.stroke) + "/>\n";
  }
  void operator()(const BoxItem& box) {
    flush();
    out += "<rect" + attribute("x", box.x_mm) + attribute("y", box.y_mm + down_) +
           attribute("width", box.width_mm) + attribute("height", box.height_mm) +
           paint(box.fill, box.stroke) + "/>\n";
  }
  void operator()(const LineItem& line) {
    flush();
    Paint made;
    made.set(line.stroke);
    out += "<line" + attribute("x1", line.x1_mm) + attribute("y1", line.y1_mm + down_) +
           attribute("x2", line.x2_mm) + attribute("y2", line.y2_mm + down_) + made.text() + "/>\n";
  }
  void operator()(const PictureItem& picture) {
    flush();
    out += "<image" + attribute("x", picture.x_mm) + attribute("y", picture.y_mm + down_) +
           attribute("width", picture.width_mm) + attribute("height", picture.height_mm) +
           " preserveAspectRatio=\"none\" href=\"data:image/png;base64," +
           base64(png_from(document_.pictures[picture.picture])) + "\"/>\n";
  }

  void flush() {
    if (!first_) return;
    const double scale = first_->size_mm / 1000.0;
    Paint made;
    made.set("fill", first_->ink);
    out += "<path transform=\"translate(" + markup_number(first_->x_mm) + " " +
           markup_number(first_->baseline_mm + down_) + ") scale(" + fixed_number(scale, 7) + ")\"" +
           made.text() + " d=\"" + letters_ + "\"/>\n";
    letters_.clear();
    first_ = nullptr;
  }

  std::string out;

 private:
  const Document& document_;
  GlyphOutlines& outlines_;
  double down_;
  const TextItem* first_ = nullptr;
  std::string letters_;
};

/// What a block is to those who listen.
std::string role_of(const Block& block) {
  switch (block.role) {
    case BlockRole::title:
      return " role=\"heading\" aria-level=\"1\"";
    case BlockRole::heading:
      return " role=\"heading\" aria-level=\"2\"";
    case BlockRole::paragraph:
      return " role=\"paragraph\"";
    case BlockRole::figure:
      return " role=\"img\" aria-label=\"" + markup_text(block.words) + "\"";
    case BlockRole::ornament:
      return " aria-hidden=\"true\"";
  }
  return "";
}

const TextItem* first_text(const Block& block) {
  for (const Drawing& item : block.items) {
    if (const auto* text = std::get_if<TextItem>(&item)) return text;
  }
  return nullptr;
}

std::string unseen_words(const Block& block, double down) {
  const TextItem* first = first_text(block);
  if (first == nullptr || block.role == BlockRole::ornament || block.role == BlockRole::figure) return "";
  return "<text" + attribute("x", first->x_mm) + attribute("y", first->baseline_mm + down) +
         attribute("font-size", first->size_mm) + " opacity=\"0\">" + markup_text(words_of(block)) +
         "</text>\n";
}

}  // namespace

std::string markup_number(double value) {
  std::string text = fixed_number(value, 3);
  while (text.back() == '0') text.pop_back();
  if (text.back() == '.') text.pop_back();
  return text;
}

std::string words_of(const Block& block) {
  if (block.role == BlockRole::figure) return block.words;
  std::string words;
  if (block.role == BlockRole::ornament) return words;
  for (const Drawing& item : block.items) {
    const auto* text = std::get_if<TextItem>(&item);
    if (text == nullptr) continue;
    if (!words.empty() && !words.ends_with(' ') && !words.ends_with('-')) words += ' ';
    words += text->line.text;
  }
  return words;
}

std::string svg_head(double width_mm, double height_mm, const std::string& inside) {
  return "<svg xmlns=\"http://www.w3.org/2000/svg\" width=\"" + markup_number(width_mm) + "mm\" height=\"" +
         markup_number(height_mm) + "mm\" viewBox=\"0 0 " + markup_number(width_mm) + " " +
         markup_number(height_mm) + "\"" + inside + ">\n";
}

std::string svg_of_page(const Document& document, const Page& page, const SvgPiece& how, double down_mm) {
  std::string out;
  for (const Block& block : page.blocks) {
    if (block.items.empty()) continue;
    BlockWriter writer(document, how.outlines, down_mm);
    for (const Drawing& item : block.items) std::visit(writer, item);
    writer.flush();
    out += how.words ? "<g" + role_of(block) + ">\n" + writer.out + unseen_words(block, down_mm) + "</g>\n"
                     : writer.out;
  }
  return out;
}

std::string svg_from(const Document& document) {
  GlyphOutlines outlines;
  const double count = static_cast<double>(document.pages.size());
  const double height = count * document.height_mm + (count - 1.0) * kPageGap;
  std::string out = "<?xml version=\"1.0\" encoding=\"UTF-8\"?>\n" +
                    svg_head(document.width_mm, height, " lang=\"" + markup_text(document.language) + "\"") +
                    "<title>" + markup_text(document.title) + "</title>\n";
  for (std::size_t i = 0; i < document.pages.size(); ++i) {
    const double down = static_cast<double>(i) * (document.height_mm + kPageGap);
    out += "<rect x=\"0\"" + attribute("y", down) + attribute("width", document.width_mm) +
           attribute("height", document.height_mm) + " fill=\"#ffffff\"/>\n" +
           svg_of_page(document, document.pages[i], {outlines}, down);
  }
  return out + "</svg>\n";
}

}  // namespace kithue
