// SPDX-License-Identifier: MIT
#pragma once

#include "colour/light_rows.h"
#include "extract/palette.h"

namespace kithue::extract {

/// How far the colours of a photo may be trusted. Nothing in the numbers of a photo says what light fell on
/// the paper, so without a reference in the frame the error is that of an unknown light and camera.
Trust trust_of(const LightRows& picture, const PictureFacts& facts);

}  // namespace kithue::extract
