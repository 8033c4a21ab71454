// SPDX-License-Identifier: MIT
#pragma once

#include <string>
#include <vector>

#include "colour/light_rows.h"

namespace kithue {

/// A picture made small for printing: eight bits a channel with the ICC profile that says what they mean.
struct Thumbnail {
  int width = 0;
  int height = 0;
  std::vector<unsigned char> rgb;  ///< 3 * width * height, rows from the top
  std::string profile;
};

/// Shrinks by averaging areas in linear light, to fit into most_width x most_height; never enlarges. Keeps
/// the picture's own primaries, so that nothing is clipped that the photo could hold; a picture whose light
/// is not RGB (a profile of tables) goes to the primaries of ITU-R BT.2020. REQUIRES: most_width, most_height
/// >= 1.
Thumbnail thumbnail(const LightRows& picture, int most_width, int most_height);

}  // namespace kithue
