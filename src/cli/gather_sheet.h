// SPDX-License-Identifier: MIT
#pragma once

#include <string>
#include <vector>

#include "base/result.h"
#include "cli/command.h"
#include "kit/coordinate.h"
#include "kit/kit.h"
#include "sheet/colour_map.h"
#include "sheet/make_kit_sheet.h"
#include "sheet/pattern_strip.h"
#include "sheet/swatch_sheet.h"
#include "swatch/stash.h"

namespace kithue {

/// What goes with one face of a kit.
struct FaceChoice {
  std::string label;
  std::vector<Coordinate> stocks;
  std::vector<Coordinate> inks;
};

/// Everything the sheets show, looked up, decoded and matched. Points into the stash it was made from.
struct Gathered {
  SwatchSheet sheet;
  std::vector<FaceChoice> faces;
  std::vector<Coordinate> base;     ///< base stocks
  std::vector<Coordinate> always;   ///< inks that are a must
  std::vector<const Swatch*> inks;  ///< settled on for the whole kit, when the kit says how many
  ReadFaces read;
};

/// Reads the photos of a kit, takes their palettes and finds what goes with them. `kit_path` is the file the
/// kit was read from: photos are looked for beside it. Warns of what is odd.
/// Errors: of the photos, the names and the crops; `where` is the place in the kit file.
Result<Gathered> gather_sheet(const Kit& kit, const std::string& kit_path, const Stash& stash,
                              Session& session);

/// The same as a pattern strip, one copy. Errors: impossible for a punch or a snippet that no strip can hold.
Result<PatternStrip> strip_of(const Kit& kit, const std::string& kit_path, const Gathered& gathered);

/// The same as a colour map: chosen are the base stocks, the inks that are a must, and what goes with the
/// faces.
ColourMap map_of(const Gathered& gathered);

}  // namespace kithue
