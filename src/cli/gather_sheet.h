// SPDX-License-Identifier: MIT
#pragma once

#include <string>
#include <vector>

#include "base/result.h"
#include "cli/command.h"
#include "kit/coordinate.h"
#include "kit/kit.h"
#include "sheet/swatch_sheet.h"
#include "swatch/stash.h"

namespace kithue {

/// What goes with one face of a kit.
struct FaceChoice {
  std::string label;
  std::vector<Coordinate> stocks;
  std::vector<Coordinate> inks;
};

/// Everything a swatch sheet shows, looked up, decoded and matched. Points into the stash it was made from.
struct Gathered {
  SwatchSheet sheet;
  std::vector<FaceChoice> faces;
};

/// Reads the photos of a kit, one after the other, takes their palettes and finds what goes with them.
/// `kit_path` is the file the kit was read from: photos are looked for beside it. Warns of what is odd.
/// Errors: of the photos, the names and the crops; `where` is the place in the kit file.
Result<Gathered> gather_sheet(const Kit& kit, const std::string& kit_path, const Stash& stash,
                              Session& session);

}  // namespace kithue
