// SPDX-License-Identifier: MIT
#pragma once

#include <memory>
#include <random>
#include <string>
#include <variant>
#include <vector>

#include "sheet/page.h"
#include "sheet/parts.h"

namespace kithue_test {

using namespace kithue;

/// 0 to limit - 1. A function, so that the numbers are drawn in one order with every compiler.
inline unsigned below(std::mt19937& random, unsigned limit) {
  return static_cast<unsigned>(random() % limit);
}

/// Names of 1 to 40 code points in many scripts, with and without spaces.
inline std::string random_name(std::mt19937& random) {
  static const std::vector<std::vector<std::string>> kLetters{
      {"a", "f", "i", "m", "W", "ll", " ", "e", "n", "ffi"},
      {"м", "о", "р", "я", " ", "Ж", "щ"},
      {"ب", "ح", "ر", "ل", "ا", " ", "م", "س"},
      {"ש", "ל", "ו", "ם", " ", "ב"},
      {"港", "の", "朝", "色", "海"},
      {"क", "ि", "न", "ा", "र", " ", "्"},
      {"ส", "ี", "น", "้", "ำ", "ท"},
      {"W", "M", "Q"},
      {"i", "l", "-", "/", "(", ")", "7", " "},
      {"a", "ש", " ", "1", "м", "港", "ب"}};
  const auto& letters = kLetters[random() % kLetters.size()];
  const std::size_t length = 1 + random() % 40;
  std::string name;
  for (std::size_t i = 0; i < length; ++i) name += letters[random() % letters.size()];
  return name;
}

inline SheetDot random_dot(std::mt19937& random) {
  SheetDot dot{random_name(random), random() % 2 == 0 ? "" : "embossing powder", std::nullopt};
  if (random() % 12 != 0)
    dot.lab = Lab{static_cast<double>(random() % 101), static_cast<double>(random() % 160) - 80.0,
                  static_cast<double>(random() % 160) - 80.0};
  return dot;
}

/// An item with the block that it is drawn in.
struct Placed {
  const Drawing* item;
  Bounds bounds;
  const Block* block;
};

inline std::vector<Placed> items_of(const Page& page) {
  std::vector<Placed> items;
  for (const Block& block : page.blocks) {
    for (const Drawing& item : block.items) items.push_back({&item, bounds_of(item), &block});
  }
  return items;
}

inline bool is_inside_text(const Drawing& item) {
  const auto* text = std::get_if<TextItem>(&item);
  return text != nullptr && text->inside;
}

inline bool is_text(const Drawing& item) {
  return std::holds_alternative<TextItem>(item);
}

/// Ticks stand on their rule, stripes side by side, a frame around its picture: lines and boxes may meet.
inline bool may_meet(const Drawing& a, const Drawing& b) {
  const auto plain = [](const Drawing& item) {
    return std::holds_alternative<LineItem>(item) || std::holds_alternative<BoxItem>(item) ||
           std::holds_alternative<PictureItem>(item);
  };
  return plain(a) && plain(b);
}

/// True when some ring or cell holds the whole of the box.
inline bool is_held(const Bounds& box, const std::vector<Placed>& items) {
  for (const Placed& other : items) {
    const bool shape =
        std::holds_alternative<CircleItem>(*other.item) || std::holds_alternative<BoxItem>(*other.item);
    if (shape && other.bounds.left <= box.left && other.bounds.right >= box.right &&
        other.bounds.top <= box.top && other.bounds.bottom >= box.bottom)
      return true;
  }
  return false;
}

/// In a drawing - a card, a map, a sample of a print - shapes may lie on each other; words may not.
inline bool are_one_drawing(const Placed& a, const Placed& b) {
  return a.block == b.block && !is_text(*a.item) && !is_text(*b.item);
}

struct Faults {
  int off_page = 0;
  int overlaps = 0;
  int not_held = 0;
};

/// Compares all boxes of a page. `drawings`: shapes of one block may lie on each other.
inline void look_at(const Page& page, const Document& document, Faults& faults, bool drawings = false) {
  constexpr double kMargin = 9.9;
  const std::vector<Placed> items = items_of(page);
  for (std::size_t i = 0; i < items.size(); ++i) {
    const Bounds& box = items[i].bounds;
    if (box.left < kMargin || box.top < kMargin || box.right > document.width_mm - kMargin ||
        box.bottom > document.height_mm - kMargin)
      ++faults.off_page;
    if (is_inside_text(*items[i].item)) {
      faults.not_held += is_held(box, items) ? 0 : 1;
      continue;
    }
    for (std::size_t k = i + 1; k < items.size(); ++k) {
      if (drawings && are_one_drawing(items[i], items[k])) continue;
      if (is_inside_text(*items[k].item) || may_meet(*items[i].item, *items[k].item)) continue;
      faults.overlaps += overlap(box, items[k].bounds) ? 1 : 0;
    }
  }
}

/// All pages of a document.
inline Faults faults_of(const Document& document, bool drawings = false) {
  Faults faults;
  for (const Page& page : document.pages) look_at(page, document, faults, drawings);
  return faults;
}

/// How many lines say exactly this.
inline std::size_t lines_saying(const Document& document, const std::string& words) {
  std::size_t count = 0;
  for (const Page& page : document.pages) {
    for (const Placed& placed : items_of(page)) {
      const auto* text = std::get_if<TextItem>(placed.item);
      count += text != nullptr && text->line.text == words ? 1 : 0;
    }
  }
  return count;
}

/// A small grey picture.
inline SheetPicture grey_picture(int width, int height) {
  return {width, height, std::vector<unsigned char>(static_cast<std::size_t>(3 * width * height), 128),
          std::make_shared<const std::string>("profile")};
}

}  // namespace kithue_test
