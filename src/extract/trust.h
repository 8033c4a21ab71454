// SPDX-License-Identifier: MIT
#pragma once

#include <string>

#include "colour/light_rows.h"
#include "extract/evenness.h"
#include "extract/palette.h"

namespace kithue::extract {

/// How far the colours of a photo may be trusted. Nothing in the numbers of a photo says what light fell on
/// the paper, so without a reference in the frame the error is that of an unknown light and camera, and more
/// when no light colour is near neutral: then it may be the light that is coloured.
/// `sharp` is the smear in pixels (0: unknown).
Trust trust_of(const LightRows& picture, const PictureFacts& facts, const Evenness& evenness, double sharp,
               const std::vector<PaletteColour>& colours);

/// The same once a correction by `patches` known colours was made; `left_out` is its mean leave-one-out dE00,
/// below 0 when it is not known.
void trust_correction(Trust& trust, int patches, double left_out, const std::string& reason);

}  // namespace kithue::extract
