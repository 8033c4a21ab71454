// SPDX-License-Identifier: MIT
#pragma once

#include <string_view>

#include "base/result.h"
#include "icc/colour_model.h"

namespace kithue {

/// The colour model of an ICC profile, by Little CMS, media-relative colorimetric.
/// RGB profiles of curves and a matrix become just that; RGB profiles that are tables (A2B, D2B) become a
/// grid, within 0.1 dE00 of a smooth profile everywhere and of one with kinks over most of its range; grey
/// profiles become a curve whose light is neutral. `channels` are those of the picture without alpha, 1 or 3;
/// `bits` 8 or 16. Errors: bad_input, `what` being the reason alone ("it is for CMYK"): damaged, for another
/// kind of picture, not a device profile, or with a white that is no white. Source: ICC.1:2022; which tag
/// wins: 9.2 and 8.2 (tables before matrix).
Result<ColourModel> model_from_profile(std::string_view icc, int channels, int bits);

/// The same for measuring with a scanner or camera that the profile was made for: ICC-absolute colorimetric,
/// so that a paper keeps its own colour and does not become the white.
Result<ColourModel> model_for_measuring(std::string_view icc, int channels, int bits);

}  // namespace kithue
