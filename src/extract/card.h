// SPDX-License-Identifier: MIT
#pragma once

#include <string>

#include "colour/lab.h"
#include "colour/matrix.h"
#include "extract/sheet.h"
#include "extract/small_picture.h"

namespace kithue {

/// A white or grey card, or a white margin, found in a photo.
struct ReferenceCard {
  bool certain = false;
  int x = 0;  ///< a square that shows nothing else, pixels of the photo
  int y = 0;
  int side = 0;
  std::string words;  ///< what was found, or why nothing is certain
};

/// Looks for an even area that could be of the colour `known`: a plain rectangle outside the sheet (anywhere
/// when the sheet is not certain), or for a white one also what lies along three sides of the frame at least.
/// Certain when one is found, or several of one colour, or for a white one the lightest by 4 L*, and when
/// nothing of any size would come out lighter than the white that `known` is.
ReferenceCard find_card(const SmallPicture& small, const Sheet& sheet, const Lab& known,
                        const Matrix3& to_xyz);

}  // namespace kithue
