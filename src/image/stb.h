// SPDX-License-Identifier: MIT
#pragma once

#include <memory>
#include <string>
#include <string_view>

#include "image/jpeg_planes.h"
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

/// The planes that stb_image makes on the way, so that a palette is the same whichever decoder there is. They
/// are copied: memory for them is needed twice. Nothing when they are not Y, Cb and Cr, or sampled in a rarer
/// way.
/// REQUIRES: bytes that passed walk_jpeg, and its width and height; the bytes outlive what is given.
std::unique_ptr<JpegPlanes> stb_planes(std::string_view bytes, int width, int height);

}  // namespace kithue
