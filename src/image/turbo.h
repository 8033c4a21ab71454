// SPDX-License-Identifier: MIT
#pragma once

#include <optional>
#include <string>
#include <string_view>

#include "image/picture.h"

namespace kithue {

/// What libjpeg-turbo made of a JPEG. No pixels: `fault` says why, in the library's words.
struct TurboPixels {
  PixelBytes pixels;
  std::optional<YccPlanes> ycc;  ///< instead of pixels
  std::string fault;
  bool cut_short = false;  ///< the fault is that data ends too early
};

/// Decodes to grey or RGB of 8 bits by the accurate integer transform. Nothing when the program was built
/// without libjpeg-turbo, or when this kind of sampling is not one that it takes.
/// REQUIRES: bytes that passed walk_jpeg, and its width, height and channels.
std::optional<TurboPixels> turbo_decode(std::string_view bytes, int width, int height, int channels);

/// The same as planes. Nothing also when they are not Y, Cb and Cr, or sampled in a rarer way.
std::optional<TurboPixels> turbo_planes(std::string_view bytes, int width, int height);

}  // namespace kithue
