// SPDX-License-Identifier: MIT
#pragma once

#include <string>
#include <vector>

#include "sheet/page.h"
#include "sheet/parts.h"

namespace kithue {

/// The room for a face's picture; a picture of another shape is fitted into it.
inline constexpr double kFacePictureWidth = 36.0;   // mm
inline constexpr double kFacePictureHeight = 36.0;  // mm

struct SwatchSheet {
  std::string name;              ///< of the kit
  std::string date;              ///< as written, or empty
  std::vector<SheetDot> base;    ///< base stocks of the whole kit
  std::vector<SheetDot> always;  ///< inks that every kit has
  std::vector<SheetFace> faces;
  std::vector<SheetPicture> pictures;
  std::string printer_note;  ///< what the check of this printer found, or empty
};

/// The swatch sheet mailed with a kit: every face beside its coordinating stocks and inks, each with a
/// printed dot the size of a 20 mm punch, a ring of the same size to glue the real chip on, and a cell for a
/// real snippet of the paper. Words and colours, no numbers; nothing is told by colour alone.
Document lay_out_swatch_sheet(const SwatchSheet& sheet, PageSize size);

}  // namespace kithue
