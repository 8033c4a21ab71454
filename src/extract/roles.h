// SPDX-License-Identifier: MIT
#pragma once

#include <vector>

#include "extract/palette.h"

namespace kithue::extract {

/// Drops what is too little to be a colour of the face (under 0.1 %), then, when `most` is above 0, the
/// smallest until `most` are left. The dropped share goes to the nearest colour that stays.
void keep_colours(std::vector<PaletteColour>& colours, int most);

/// Says what each colour does on the face and puts them in order: ground, then motifs, then accents, each by
/// share. The ground is the largest colour. An accent is a touch: under 2 % of the face, or under 4 % when
/// it is vivid against the ground (common practice, no source).
void give_roles(std::vector<PaletteColour>& colours);

}  // namespace kithue::extract
