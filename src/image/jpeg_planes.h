// SPDX-License-Identifier: MIT
#pragma once

#include <optional>
#include <string>

#include "image/picture.h"

namespace kithue {

/// Why a decoder could not decode a JPEG.
struct JpegFault {
  std::string words;       ///< the decoder's
  bool cut_short = false;  ///< data ends too early
};

/// A colour JPEG that a decoder has opened and gives as planes, in two steps.
class JpegPlanes {
 public:
  JpegPlanes() = default;
  virtual ~JpegPlanes() = default;
  JpegPlanes(const JpegPlanes&) = delete;
  JpegPlanes& operator=(const JpegPlanes&) = delete;

  /// Planes that nothing was written to yet. To be called once. Throws bad_alloc.
  virtual YccPlanes room() = 0;
  /// Decodes into what room() gave, which must still be there. `told` may be empty.
  virtual std::optional<JpegFault> fill(const RowsTold& told) = 0;
};

}  // namespace kithue
