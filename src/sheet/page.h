// SPDX-License-Identifier: MIT
#pragma once

#include <cstddef>
#include <memory>
#include <string>
#include <variant>
#include <vector>

#include "colour/lab.h"
#include "sheet/shape.h"

namespace kithue {

// A laid-out document as data: what is drawn where, in millimetres from the top left corner of the page,
// in reading order. The output formats draw it; none of them decides anything.

/// What fills a shape or a letter.
struct Ink {
  enum class Kind { none, grey, lab };
  Kind kind = Kind::none;
  double grey = 0.0;  ///< 0 = black, 1 = the paper; printed with black ink alone
  Lab lab;            ///< a swatch's own colour, D50
  friend bool operator==(const Ink&, const Ink&) = default;
};
inline Ink grey_ink(double grey) {
  return {Ink::Kind::grey, grey, {}};
}
inline Ink lab_ink(const Lab& lab) {
  return {Ink::Kind::lab, 0.0, lab};
}

/// How an edge is drawn.
struct Stroke {
  Ink ink;
  double width_mm = 0.0;
  double dash_mm = 0.0;  ///< length of the dashes and of the gaps; 0 = unbroken
};

/// One line of text. `x_mm` is its left end whatever its direction.
struct TextItem {
  double x_mm = 0.0;
  double baseline_mm = 0.0;
  double size_mm = 0.0;  ///< one em
  ShapedText line;
  Ink ink;
  bool inside = false;  ///< meant to lie inside another item (a word in a ring): the only text that may
};

struct CircleItem {
  double x_mm = 0.0;  ///< centre
  double y_mm = 0.0;
  double radius_mm = 0.0;
  Ink fill;
  Stroke stroke;
};

struct BoxItem {
  double x_mm = 0.0;
  double y_mm = 0.0;
  double width_mm = 0.0;
  double height_mm = 0.0;
  Ink fill;
  Stroke stroke;
};

struct LineItem {
  double x1_mm = 0.0;
  double y1_mm = 0.0;
  double x2_mm = 0.0;
  double y2_mm = 0.0;
  Stroke stroke;
};

struct PictureItem {
  double x_mm = 0.0;
  double y_mm = 0.0;
  double width_mm = 0.0;
  double height_mm = 0.0;
  std::size_t picture = 0;  ///< index into Document::pictures
};

using Drawing = std::variant<TextItem, CircleItem, BoxItem, LineItem, PictureItem>;

/// What a stretch of the page is to someone who listens to it.
enum class BlockRole {
  ornament,  ///< rules, rings, ticks: passed over
  title,
  heading,
  paragraph,
  figure  ///< has words of its own instead of its drawing
};

/// One thing to be read: a heading, a paragraph, a figure. Its items stand together.
struct Block {
  BlockRole role = BlockRole::ornament;
  std::string words;  ///< what a figure shows; empty for the other roles
  std::vector<Drawing> items;
};

struct Page {
  std::vector<Block> blocks;  ///< in reading order
};

/// Eight bits a channel, three channels, rows from the top, with the ICC profile that says what they mean.
struct SheetPicture {
  int width = 0;
  int height = 0;
  std::vector<unsigned char> rgb;              ///< 3 * width * height
  std::shared_ptr<const std::string> profile;  ///< never null; pictures may share one
};

struct Document {
  double width_mm = 210.0;
  double height_mm = 297.0;
  std::string title;
  std::string language = "en-GB";
  std::vector<SheetPicture> pictures;
  std::vector<Page> pages;
};

/// Puts the pages of another document of the same size behind those of the first.
void append(Document& to, Document from);

/// The paper a printer holds.
enum class PageSize { a4, letter };
struct PageExtent {
  double width_mm = 0.0;
  double height_mm = 0.0;
};
/// A4 by ISO 216, Letter (8.5 x 11 in) by ANSI/ASME Y14.1.
PageExtent extent_of(PageSize size) noexcept;

/// The space that an item takes on the page, with half of its stroke. For text: from the highest to the
/// lowest that the type size allows (0.95 above and 0.28 below the base line), so that lines never touch.
struct Bounds {
  double left = 0.0;
  double top = 0.0;
  double right = 0.0;
  double bottom = 0.0;
};
Bounds bounds_of(const Drawing& item);
/// Moves everything in a block down by so much.
void move_down(Block& block, double by_mm);

/// True when the two share more than `slack_mm` in both directions.
bool overlap(const Bounds& a, const Bounds& b, double slack_mm = 0.001) noexcept;

}  // namespace kithue
