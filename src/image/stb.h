// SPDX-License-Identifier: MIT
#pragma once

#include <string>
#include <string_view>

#include "image/picture.h"

namespace kithue {

/// Pixels as stb_image gives them. `fault` is stb's own word when there are none.
struct StbPixels {
  PixelBytes pixels;
  int width = 0;
  int height = 0;
  int channels = 0;
  std::string fault;
};

/// REQUIRES: bytes that passed our own walk (jpeg_walk.h, png_walk.h): stb_image alone accepts cut files.
StbPixels stb_decode(std::string_view bytes, bool sixteen_bits);

}  // namespace kithue
