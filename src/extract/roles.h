// SPDX-License-Identifier: MIT
#pragma once

#include <vector>

#include "extract/palette.h"

namespace kithue::extract {

/// Drops what is too little to be a colour of the face (under 0.1 %), then, the
/// smallest until `most` are left (16 when `most` is 0: nobody names more). The dropped share goes to the
/// nearest colour that stays.
void keep_colours(std::vector<PaletteColour>& colours, int most);

/// Says what each colour does on the face and puts them in order: ground, then motifs, then accents, each by
/// share. The ground is the largest colour. An accent is a touch: under 2 % of the face, or under 4 % when
/// it is vivid against the ground (common practice, no source).
void give_roles(std::vector<PaletteColour>& colours);

}  // namespace kithue::extract
