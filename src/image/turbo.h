// SPDX-License-Identifier: MIT
#pragma once

#include <memory>
#include <optional>
#include <string>
#include <string_view>

#include "image/picture.h"

namespace kithue {

/// Why libjpeg-turbo could not decode a JPEG.
struct TurboFault {
  std::string words;       ///< the library's
  bool cut_short = false;  ///< data ends too early
};

/// What libjpeg-turbo made of a JPEG.
struct TurboPixels {
  PixelBytes pixels;
  std::optional<TurboFault> fault;  ///< then no pixels
};

/// Decodes to grey or RGB of 8 bits by the accurate integer transform. Nothing when the program was built
/// without libjpeg-turbo.
/// REQUIRES: bytes that passed walk_jpeg, and its width, height and channels.
std::optional<TurboPixels> turbo_decode(std::string_view bytes, int width, int height, int channels);

/// The same as planes, in two steps.
class TurboPlanes {
 public:
  /// Nothing without libjpeg-turbo, or when they are not Y, Cb and Cr, or sampled in a rarer way.
  /// REQUIRES: as turbo_decode; the bytes outlive it.
  static std::unique_ptr<TurboPlanes> open(std::string_view bytes, int width, int height);
  ~TurboPlanes();
  TurboPlanes(const TurboPlanes&) = delete;
  TurboPlanes& operator=(const TurboPlanes&) = delete;

  /// Planes that nothing was written to yet. To be called once. Throws bad_alloc.
  YccPlanes room();
  /// Decodes into what room() gave, which must still be there. `told` may be empty.
  std::optional<TurboFault> fill(const RowsTold& told);

 private:
  struct Inside;
  explicit TurboPlanes(std::unique_ptr<Inside> inside);
  std::unique_ptr<Inside> inside_;
};

}  // namespace kithue
