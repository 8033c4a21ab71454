// SPDX-License-Identifier: MIT
#pragma once

#include <algorithm>

#include "colour/difference.h"
#include "extract/palette.h"

namespace kithue_test {

/// dE00 from the colour to the nearest one found.
inline double nearest(const kithue::Palette& palette, const kithue::Lab& lab) {
  double best = 1e9;
  for (const kithue::PaletteColour& colour : palette.colours)
    best = std::min(best, kithue::ciede2000(colour.lab, lab));
  return best;
}

}  // namespace kithue_test
