// SPDX-License-Identifier: MIT
#include "sheet/parts.h"

#include <algorithm>
#include <cmath>

#include "sheet/composer.h"

namespace kithue {
namespace {

/// The edge of a colour that would be lost on the paper, or that is not known.
Stroke edge_of(const std::optional<Lab>& lab) {
  if (!lab) return {grey_ink(type::kSoft), type::kHairline, 0.0};
  if (lab->L >= kPaleLightness) return {grey_ink(type::kFaint), type::kHairline, 0.0};
  return {};
}

}  // namespace

void draw_dot(Block& into, const std::optional<Lab>& lab, double x, double y, double across) {
  const double radius = across / 2;
  const Stroke edge = edge_of(lab);
  into.items.emplace_back(
      CircleItem{x + radius, y + radius, radius - edge.width_mm / 2, lab ? lab_ink(*lab) : Ink{}, edge});
}

void draw_patch(Block& into, const std::optional<Lab>& lab, double x, double y, double width, double height) {
  const Stroke edge = edge_of(lab);
  const double inset = edge.width_mm / 2;
  into.items.emplace_back(BoxItem{x + inset, y + inset, width - 2 * inset, height - 2 * inset,
                                  lab ? lab_ink(*lab) : Ink{}, edge});
}

void draw_stripes(Block& into, const std::vector<KitColour>& colours, double x, double y, double width,
                  double height) {
  double total = 0.0;
  for (const KitColour& colour : colours) total += std::max(colour.share, 0.0);
  for (const KitColour& colour : colours) {
    const double share =
        total > 0 ? std::max(colour.share, 0.0) / total : 1.0 / static_cast<double>(colours.size());
    into.items.emplace_back(BoxItem{x, y, width * share, height, lab_ink(colour.lab), {}});
    x += width * share;
  }
}

void draw_frame(Block& into, double x, double y, double width, double height) {
  into.items.emplace_back(BoxItem{x, y, width, height, {}, {grey_ink(type::kFaint), type::kHairline, 0.0}});
}

SheetPicture cropped(const SheetPicture& picture, double width_to_height) {
  SheetPicture part;
  part.profile = picture.profile;
  const double own = static_cast<double>(picture.width) / picture.height;
  part.width = own > width_to_height
                   ? std::max(1, static_cast<int>(std::lround(picture.height * width_to_height)))
                   : picture.width;
  part.height = own > width_to_height
                    ? picture.height
                    : std::max(1, static_cast<int>(std::lround(picture.width / width_to_height)));
  const int left = (picture.width - part.width) / 2;
  const int top = (picture.height - part.height) / 2;
  for (int y = top; y < top + part.height; ++y) {
    const auto row = picture.rgb.begin() + 3 * (static_cast<std::ptrdiff_t>(y) * picture.width + left);
    part.rgb.insert(part.rgb.end(), row, row + 3 * static_cast<std::ptrdiff_t>(part.width));
  }
  return part;
}

}  // namespace kithue
