// SPDX-License-Identifier: MIT
#pragma once

#include <memory>
#include <optional>
#include <string_view>

#include "image/jpeg_planes.h"
#include "image/picture.h"

namespace kithue {

/// What libjpeg-turbo made of a JPEG.
struct TurboPixels {
  PixelBytes pixels;
  std::optional<JpegFault> fault;  ///< then no pixels
};

/// Decodes to grey or RGB of 8 bits by the accurate integer transform. Nothing when the program was built
/// without libjpeg-turbo.
/// REQUIRES: bytes that passed walk_jpeg, and its width, height and channels.
std::optional<TurboPixels> turbo_decode(std::string_view bytes, int width, int height, int channels);

/// The same as planes. Nothing without libjpeg-turbo, or when they are not Y, Cb and Cr, or sampled in a
/// rarer way. REQUIRES: as turbo_decode; the bytes outlive what is given.
std::unique_ptr<JpegPlanes> turbo_planes(std::string_view bytes, int width, int height);

}  // namespace kithue
