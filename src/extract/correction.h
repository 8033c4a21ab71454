// SPDX-License-Identifier: MIT
#pragma once

#include <array>
#include <string>
#include <vector>

#include "colour/lab.h"
#include "colour/light_rows.h"
#include "extract/palette.h"

namespace kithue {

/// A place in a photo whose true colour is known: a white or grey card, or one of the user's own stocks.
struct KnownPatch {
  std::string name;
  Lab lab;                       ///< its true colour
  std::array<double, 3> seen{};  ///< mean light there, in the picture's own primaries
  double uneven = 0.0;           ///< standard deviation of the light's sum within the patch, as a part of it
};

/// Reads the middle of a window (a tenth is left out on each side), averaged in light.
/// REQUIRES: the window lies inside the picture and is at least 1 x 1.
KnownPatch patch_at(const LightRows& picture, int x, int y, int width, int height, std::string name,
                    const Lab& lab);

/// What turns the light of one photo into true colours.
enum class CorrectionKind {
  level,   ///< three gains: cast and level only, made where a real lamp's light is best undone
  matrix,  ///< root-polynomial of degree 1: three by three
  root2    ///< root-polynomial of degree 2
};

struct Correction {
  CorrectionKind kind = CorrectionKind::level;
  std::vector<std::array<double, 3>> rows;  ///< XYZ a term
  int patches = 0;
  double left_out_mean = 0.0;  ///< leave-one-out dE00; below 0 when too few patches can tell
  double left_out_max = 0.0;
};

/// The richest correction that the patches support, by their number and by how well each is foretold by the
/// others: gains from 1 patch on, degree 1 from 6, degree 2 from 12.
/// Source: Finlayson, Mackiewicz & Hurlbert, "Color correction using root-polynomial regression", IEEE Trans.
/// Image Process. 24(5), 1460-1470 (2015). The numbers of patches are ours, from a simulation of 24-patch
/// charts in which degree 2 did best and degree 3 followed the noise.
/// REQUIRES: at least one patch with light in every channel.
Correction fit_correction(const std::vector<KnownPatch>& patches, const Matrix3& to_xyz);

/// The colour that a colour of the photo really has.
Lab corrected(const Lab& seen, const Correction& correction, const Matrix3& to_xyz);

/// Corrects the colours of a palette, their words and its trust.
void correct(Palette& palette, const Correction& correction, const Matrix3& to_xyz);

}  // namespace kithue
