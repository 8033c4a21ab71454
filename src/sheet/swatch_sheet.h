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

/// The room for a face's picture; a picture of another shape is fitted into it.
inline constexpr double kFacePictureWidth = 36.0;   // mm
inline constexpr double kFacePictureHeight = 36.0;  // mm

/// A stock or an ink on the sheet.
struct SheetDot {
  std::string name;        ///< the user's text
  std::string detail;      ///< small print under the name: an ink's method; may be empty
  std::optional<Lab> lab;  ///< nothing: no colour is known, and the dot stays empty and says so
};

struct SheetFace {
  std::string label;
  std::optional<std::size_t> picture;  ///< index into SwatchSheet::pictures
  std::vector<KitColour> colours;      ///< drawn as stripes when there is no picture
  std::vector<SheetDot> stocks;
  std::vector<SheetDot> inks;
};

struct SwatchSheet {
  std::string name;              ///< of the kit
  std::string date;              ///< as written, or empty
  std::vector<SheetDot> base;    ///< base stocks of the whole kit
  std::vector<SheetDot> always;  ///< inks that every kit has
  std::vector<SheetFace> faces;
  std::vector<SheetPicture> pictures;
};

/// The swatch sheet mailed with a kit: every face beside its coordinating stocks and inks, each with a
/// printed dot the size of a 20 mm punch, a ring of the same size to glue the real chip on, and a cell for a
/// real snippet of the paper. Words and colours, no numbers; nothing is told by colour alone.
Document lay_out_swatch_sheet(const SwatchSheet& sheet, PageSize size);

}  // namespace kithue
