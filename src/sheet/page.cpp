// SPDX-License-Identifier: MIT
#include "sheet/page.h"

#include <algorithm>
#include <utility>

namespace kithue {
namespace {

constexpr double kAscent = 0.95;
constexpr double kDescent = 0.28;

struct Measure {
  Bounds operator()(const TextItem& text) const {
    return {text.x_mm, text.baseline_mm - kAscent * text.size_mm, text.x_mm + text.line.width * text.size_mm,
            text.baseline_mm + kDescent * text.size_mm};
  }
  Bounds operator()(const CircleItem& circle) const {
    const double reach = circle.radius_mm + circle.stroke.width_mm / 2;
    return {circle.x_mm - reach, circle.y_mm - reach, circle.x_mm + reach, circle.y_mm + reach};
  }
  Bounds operator()(const BoxItem& box) const {
    const double half = box.stroke.width_mm / 2;
    return {box.x_mm - half, box.y_mm - half, box.x_mm + box.width_mm + half,
            box.y_mm + box.height_mm + half};
  }
  Bounds operator()(const LineItem& line) const {
    const double half = line.stroke.width_mm / 2;
    return {std::min(line.x1_mm, line.x2_mm) - half, std::min(line.y1_mm, line.y2_mm) - half,
            std::max(line.x1_mm, line.x2_mm) + half, std::max(line.y1_mm, line.y2_mm) + half};
  }
  Bounds operator()(const PictureItem& picture) const {
    return {picture.x_mm, picture.y_mm, picture.x_mm + picture.width_mm, picture.y_mm + picture.height_mm};
  }
};

struct Lower {
  double by;
  void operator()(TextItem& text) const { text.baseline_mm += by; }
  void operator()(CircleItem& circle) const { circle.y_mm += by; }
  void operator()(BoxItem& box) const { box.y_mm += by; }
  void operator()(LineItem& line) const {
    line.y1_mm += by;
    line.y2_mm += by;
  }
  void operator()(PictureItem& picture) const { picture.y_mm += by; }
};

}  // namespace

void append(Document& to, Document from) {
  const std::size_t first = to.pictures.size();
  for (SheetPicture& picture : from.pictures) to.pictures.push_back(std::move(picture));
  for (Page& page : from.pages) {
    for (Block& block : page.blocks) {
      for (Drawing& item : block.items) {
        if (auto* picture = std::get_if<PictureItem>(&item)) picture->picture += first;
      }
    }
    to.pages.push_back(std::move(page));
  }
}

PageExtent extent_of(PageSize size) noexcept {
  switch (size) {
    case PageSize::a4:
      return {210.0, 297.0};
    case PageSize::letter:
      return {8.5 * 25.4, 11.0 * 25.4};
  }
  return {};
}

Bounds bounds_of(const Drawing& item) {
  return std::visit(Measure{}, item);
}

void move_down(Block& block, double by_mm) {
  for (Drawing& item : block.items) std::visit(Lower{by_mm}, item);
}

bool overlap(const Bounds& a, const Bounds& b, double slack_mm) noexcept {
  return std::min(a.right, b.right) - std::max(a.left, b.left) > slack_mm &&
         std::min(a.bottom, b.bottom) - std::max(a.top, b.top) > slack_mm;
}

}  // namespace kithue
