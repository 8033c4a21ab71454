// SPDX-License-Identifier: MIT
#pragma once

#include <array>
#include <optional>

#include "base/executor.h"
#include "cli/extract.h"
#include "extract/palette.h"
#include "extract/sheet.h"
#include "extract/small_picture.h"
#include "photo/photo.h"

namespace kithue {

/// What the photo of one face gave.
struct FaceReading {
  Palette palette;
  Sheet sheet;    ///< corners: what was looked at, also when a window was given
  int width = 0;  ///< of what was looked at, pixels
  int height = 0;
  bool window_given = false;  ///< by the user; no sheet was looked for
  SmallPicture small;         ///< the whole photo
};

/// The palette of what the window shows; without a window of the sheet in the photo when it is certain where
/// that lies, else of all of it. `colours`: 0 = found by itself. `early`: taken from the photo as it was
/// decoded.
FaceReading read_face(const Photo& photo, const std::optional<CropPixels>& window, int colours,
                      Executor& executor, EarlyLook* early = nullptr);

/// The upright box around the sheet, inside a photo of that size, with even sides.
CropPixels box_around(const Sheet& sheet, int width, int height) noexcept;

/// The light that fell at a place of the photo, as a part of the mean over what was looked at: 1 where it is
/// not known. Beyond what was looked at it is taken a little on, not further than its edge's neighbourhood.
double light_at(const FaceReading& reading, double x, double y);

}  // namespace kithue
