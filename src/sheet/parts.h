// SPDX-License-Identifier: MIT
#pragma once

#include <cstddef>
#include <optional>
#include <string>
#include <vector>

#include "colour/lab.h"
#include "kit/kit.h"
#include "sheet/page.h"

namespace kithue {

// What the sheets show and how it is drawn on all of them.

/// A stock or an ink on a sheet.
struct SheetDot {
  std::string name;        ///< the user's text
  std::string detail;      ///< small print under the name: an ink's method; may be empty
  std::optional<Lab> lab;  ///< nothing: no colour is known, and the dot stays empty and says so
};

struct SheetFace {
  std::string label;
  std::optional<std::size_t> picture;  ///< index into the pictures of the sheet
  std::vector<KitColour> colours;      ///< drawn as stripes when there is no picture
  std::vector<SheetDot> stocks;
  std::vector<SheetDot> inks;
  std::string sheet;  ///< the sheet it is a side of: faces of one sheet stand side by side on a strip
};

/// L* from which a colour needs an edge to be seen on white paper.
inline constexpr double kPaleLightness = 85.0;

/// A dot with its top left corner at (x, y): filled, with an edge where it is pale; empty with an edge where
/// the colour is not known.
void draw_dot(Block& into, const std::optional<Lab>& lab, double x, double y, double across);
/// The same as a box.
void draw_patch(Block& into, const std::optional<Lab>& lab, double x, double y, double width, double height);
/// The colours of a face side by side, as wide as their shares.
void draw_stripes(Block& into, const std::vector<KitColour>& colours, double x, double y, double width,
                  double height);
/// A hairline around a box.
void draw_frame(Block& into, double x, double y, double width, double height);

/// The middle of a picture in another shape. REQUIRES: width_to_height above 0.
SheetPicture cropped(const SheetPicture& picture, double width_to_height);

}  // namespace kithue
