// SPDX-License-Identifier: MIT
#include "sheet/composer.h"

#include <algorithm>
#include <utility>

namespace kithue {
namespace {

constexpr double kFooterHeight = 19.0;
constexpr double kLargeFooterHeight = 34.0;
constexpr double kLargeFrom = 1.5;  // type scale from which the footer is set for large print
constexpr std::string_view kScaling =
    "Print at 100 %, without scaling: the lines should measure 100 mm and 4 in.";
constexpr std::string_view kCaution =
    "Printed colour is for orientation only. Compare the real chips, in the light they will be seen in.";
constexpr double kBottomMargin = 10.0;
constexpr double kInch = 25.4;

void tick(Block& block, double x, double y, double length, double width) {
  block.items.emplace_back(LineItem{x, y, x, y + length, {grey_ink(type::kBlack), width, 0.0}});
}

}  // namespace

void append(Panel& to, Panel from, double down) {
  to.height = std::max(to.height, down + from.height);
  for (Block& block : from.blocks) {
    move_down(block, down);
    to.blocks.push_back(std::move(block));
  }
}

Composer::Composer(PageSize size, std::string title, double scale) : type_scale(scale) {
  const PageExtent extent = extent_of(size);
  document.width_mm = extent.width_mm;
  document.height_mm = extent.height_mm;
  document.title = std::move(title);
  right = extent.width_mm - left;
  bottom = extent.height_mm - kBottomMargin - (scale > kLargeFrom ? kLargeFooterHeight : kFooterHeight);
}

double Composer::running_head(const std::string& name, const std::string& kind) {
  constexpr double kKindWidth = 38.0;
  Block& head = block(BlockRole::ornament);
  const double end = line(head, name, left, top, width() - kKindWidth - 2.0, type::kRunning, type::kBlack,
                          Align::left, TextFace::bold);
  const double other =
      line(head, kind, right - kKindWidth, top + 0.4, kKindWidth, type::kName, type::kSoft, Align::right);
  return std::max(end, other) + 4.0;
}

Panel Composer::title_panel(const std::string& name, const std::string& under) {
  Panel panel;
  const double size = std::min(sized(type::kTitle), 1.3 * type::kTitle);
  const Paragraph title = fit_text(shaper, name, width(), {TextFace::light, size, size * 0.55, 3});
  double end = text(panel.block(BlockRole::title), title, left, 0.0, width(), type::kBlack);
  end = lines(panel.block(BlockRole::paragraph), under, left, end + 0.4, width(), sized(type::kName),
              type::kSoft);
  panel.height = end;
  return panel;
}

double Composer::put(Panel panel, double y) {
  for (Block& block : panel.blocks) {
    move_down(block, y);
    page().blocks.push_back(std::move(block));
  }
  return y + panel.height;
}

double Composer::lines(Block& into, std::string_view words, double x, double y, double width, double size,
                       double grey, TextFace face) {
  constexpr std::size_t kMostLines = 12;
  return text(into, fit_text(shaper, words, width, {face, size, size * 0.8, kMostLines}), x, y, width, grey);
}

Page& Composer::new_page() {
  document.pages.emplace_back();
  return document.pages.back();
}

Block& Composer::block(BlockRole role, std::string words) {
  page().blocks.push_back({role, std::move(words), {}});
  return page().blocks.back();
}

double Composer::height_of(const Paragraph& paragraph) {
  return static_cast<double>(paragraph.lines.size()) * paragraph.size_mm * type::kLeading;
}

double Composer::text(Block& into, const Paragraph& paragraph, double x, double y, double width, double grey,
                      Align align) {
  const double size = paragraph.size_mm;
  for (const ShapedText& line : paragraph.lines) {
    const double spare = width - line.width * size;
    const bool to_right = align == Align::right || (align == Align::start && line.right_to_left);
    const double indent = to_right ? spare : align == Align::centre ? spare / 2 : 0.0;
    into.items.emplace_back(TextItem{x + indent, y + 0.96 * size, size, line, grey_ink(grey), false});
    y += size * type::kLeading;
  }
  return y;
}

double Composer::line(Block& into, std::string_view words, double x, double y, double width, double size,
                      double grey, Align align, TextFace face, bool inside) {
  const Paragraph fitted = fit_text(shaper, words, width, {face, size, size * 0.7, 1});
  const std::size_t first = into.items.size();
  const double end = text(into, fitted, x, y, width, grey, align);
  if (inside) {
    for (std::size_t i = first; i < into.items.size(); ++i) std::get<TextItem>(into.items[i]).inside = true;
  }
  return end;
}

void Composer::add_ruler(Page& on) {
  on.blocks.push_back({BlockRole::figure, "Two check lines, 100 millimetres and 4 inches long.", {}});
  Block& block = on.blocks.back();
  const Stroke stroke{grey_ink(type::kBlack), 0.2, 0.0};
  const double metric = bottom + 6.2;
  block.items.emplace_back(LineItem{left, metric, left + 100.0, metric, stroke});
  for (int i = 0; i <= 10; ++i) {
    const double length = i % 10 == 0 ? 2.2 : i % 5 == 0 ? 1.8 : 1.1;
    tick(block, left + 10.0 * i, metric - length, length, 0.2);
  }
  const double inches = metric + 2.4;
  block.items.emplace_back(LineItem{left, inches, left + 4 * kInch, inches, stroke});
  for (int i = 0; i <= 8; ++i) {
    const double length = i % 8 == 0 ? 2.2 : i % 2 == 0 ? 1.8 : 1.1;
    tick(block, left + kInch / 2 * i, inches, length, 0.2);
  }
  const double label = left + 4 * kInch + 1.6;
  line(block, "100 mm", label, metric - 2.5, 14.0, type::kSmall, type::kBlack);
  line(block, "4 in", label, inches - 0.4, 14.0, type::kSmall, type::kBlack);
}

void Composer::add_caution(Page& on, BlockRole role) {
  on.blocks.push_back({role, {}, {}});
  line(on.blocks.back(), kScaling, left, bottom + 12.2, 118.0, type::kSmall, type::kSoft);
  const double column = left + 122.0;
  on.blocks.push_back({role, {}, {}});
  const Paragraph caution =
      fit_text(shaper, kCaution, right - column, {TextFace::regular, type::kSmall, type::kSmall, 3});
  text(on.blocks.back(), caution, column, bottom + 2.6, right - column, type::kSoft);
  if (note.empty()) return;
  on.blocks.push_back({role, {}, {}});
  line(on.blocks.back(), note, left, bottom + 15.6, width(), type::kSmall, type::kSoft);
}

/// In large print the check lines stand alone and the words below them, as wide as the page.
void Composer::add_large_caution(Page& on, BlockRole role) {
  const double size = type_scale * type::kSmall * 0.9;
  double y = bottom + 12.0;
  for (const std::string_view words : {kScaling, kCaution, std::string_view(note)}) {
    if (words.empty()) continue;
    on.blocks.push_back({role, {}, {}});
    y = line(on.blocks.back(), words, left, y, width(), size, type::kBlack);
  }
}

void Composer::add_footers() {
  const std::size_t count = document.pages.size();
  const bool large = type_scale > kLargeFrom;
  for (std::size_t i = 0; i < count; ++i) {
    Page& on = document.pages[i];
    // Said aloud once; on later pages it is furniture.
    const BlockRole role = i == 0 ? BlockRole::paragraph : BlockRole::ornament;
    on.blocks.push_back({BlockRole::ornament, {}, {}});
    on.blocks.back().items.emplace_back(
        LineItem{left, bottom, right, bottom, {grey_ink(type::kFaint), type::kHairline, 0.0}});
    add_ruler(on);
    if (large)
      add_large_caution(on, role);
    else
      add_caution(on, role);
    on.blocks.push_back({BlockRole::ornament, {}, {}});
    const double column = left + 122.0;
    line(on.blocks.back(), "Page " + std::to_string(i + 1) + " of " + std::to_string(count), column,
         bottom + (large ? 3.0 : 12.2), right - column, large ? sized(type::kSmall) : type::kSmall,
         type::kBlack, Align::right);
  }
}

}  // namespace kithue
