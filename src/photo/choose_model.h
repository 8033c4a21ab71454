// SPDX-License-Identifier: MIT
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "icc/colour_model.h"
#include "image/picture.h"
#include "photo/photo.h"

namespace kithue {

/// The colour model a picture is read with, and how it was arrived at.
struct ChosenModel {
  ColourModel model;
  ProfileState state = ProfileState::assumed;
  std::string name;                   ///< for people
  std::vector<std::string> warnings;  ///< what was there and could not be used
};

/// The first usable of: cICP, ICC profile, sRGB chunk, gAMA with cHRM, the DCF mark for Adobe RGB; else sRGB.
/// What is there but unusable is passed over with a warning, as if it were absent; when nothing else is
/// found then, the state is broken.
/// Source: PNG third edition (W3C), 11.3.2 (precedence) and 13.14.
/// `channels` without alpha, 1 or 3.
ChosenModel choose_model(const ColourNotes& notes, int channels, int bits);

/// RGB by code points of ITU-T H.273: the primaries 1, 4-9, 11, 12 and 22 with the transfers 1, 4-6, 8 and
/// 13-15, matrix 0, full range. Nothing for others; among them are PQ and HLG, whose white is not paper's.
/// Transfers 1, 6, 14 and 15 are undone as the camera curve that H.273 prints.
std::optional<ColourModel> model_from_cicp(const std::array<unsigned, 4>& cicp, int bits);

/// Gamma (coded = light ^ gamma; nothing: the curve of sRGB) and chromaticities (nothing: those of sRGB), the
/// white adapted to D50 by Bradford. Nothing when the numbers can belong to no display.
std::optional<ColourModel> model_from_gamma(std::optional<double> gamma,
                                            const std::optional<std::array<double, 8>>& chroma, int bits);

}  // namespace kithue
