// SPDX-License-Identifier: MIT
#pragma once

#include <cstdint>
#include <functional>
#include <vector>

#include "base/executor.h"
#include "colour/light_rows.h"
#include "extract/blocks.h"
#include "extract/cells.h"
#include "extract/flat.h"
#include "extract/sharpness.h"
#include "extract/thin_colour.h"

namespace kithue::extract {

/// A known colour of small things only, as its lines show it.
struct Corrected {
  std::size_t number = 0;  ///< in the list of known ones
  Lab lab;
};

struct ThinFindings {
  std::vector<ThinColour> colours;
  std::vector<Corrected> corrected;
  std::vector<ThinPlace>
      places;         ///< where they were seen; the first of `colours` has the number known.size()
  EdgeSmear smear;    ///< of the picture
  bool sure = false;  ///< edges of plain places told it
};

/// Finds colours that have no flat cells: looks for cells that stand out from known colours on both sides,
/// and fits a smeared line to the full-size pixels across them. `labels` are of the `known` ones; `gain`
/// gives the light at a pixel as a part of the mean, by which `cells` are already divided; the first `sure`
/// known colours have large plain places, whose edges tell how sharp the picture is. `grain` (steps, as
/// grain_of gives it) tells lines from relief; `earlier` is what was found before: its colours are among
/// `known` already, and its smear holds.
ThinFindings thin_colours(const LightRows& picture, const Cells& cells, const CellColours& labels,
                          const std::vector<Lab>& known, std::size_t sure, int grain,
                          const ThinFindings& earlier, const std::function<double(double, double)>& gain,
                          Executor& executor);

}  // namespace kithue::extract
