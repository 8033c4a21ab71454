// SPDX-License-Identifier: MIT
#pragma once

#include <cstddef>
#include <string>
#include <vector>

#include "sheet/page.h"
#include "sheet/parts.h"

namespace kithue {

/// What a pattern strip shows.
struct PatternStrip {
  std::string name;              ///< of the kit
  std::string date;              ///< as written, or empty
  std::vector<SheetFace> faces;  ///< in order; those with the same `sheet` in a row stand side by side
  std::vector<SheetDot> solids;  ///< every coordinating stock once, in order
  std::vector<SheetPicture> pictures;
  double punch_mm = 20.0;  ///< width of the punched dots
  double snippet_width_mm = 20.0;
  double snippet_height_mm = 20.0;
  std::size_t copies = 1;  ///< strips to print: as many to a page as fit, with cut marks between
  std::string printer_note;
};

/// How many whole strips go on a page: 0 when one takes more than a page.
struct StripCount {
  std::size_t on_a_page = 0;
};

/// The sampler of a pack: every face once, sides A and B side by side, each with a cell to glue the real
/// snippet into (the photo shows which) and its coordinating solids as named dots; at the end every solid
/// once, the size of the punch, to glue the real dot over. Every face and every solid once a strip, in order.
/// Names stand in one line where two would make more than three pages.
Document lay_out_pattern_strip(const PatternStrip& strip, PageSize size, StripCount* count = nullptr);

}  // namespace kithue
