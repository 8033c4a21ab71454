// SPDX-License-Identifier: MIT
#pragma once

#include <string>
#include <vector>

#include "sheet/page.h"
#include "sheet/parts.h"

namespace kithue {

/// A colour of the pack on the map.
struct MapColour {
  Lab lab;
  double share = 0.0;  ///< of its face, 0-1; sets how large its mark is
};

struct ColourMap {
  std::string name;  ///< of the kit
  std::string date;
  std::vector<MapColour> pack;     ///< the colours of all faces
  std::vector<SheetDot> swatches;  ///< the chosen stocks and inks, in order; without a number: listed only
  std::string printer_note;
};

/// Where the colours lie: the plane of a* and b* and a ladder of lightness, with the colours of the pack as
/// plain dots and the chosen swatches as numbered rings, and a list of the numbers with the names. For the
/// teacher: it has numbers. Swatches close to each other get their numbers apart, on a short line.
Document lay_out_colour_map(const ColourMap& map, PageSize size);

}  // namespace kithue
