// SPDX-License-Identifier: MIT
#pragma once

#include "colour/lab.h"

namespace kithue {

/// The terms of the two-colour harmony model of Ou & Luo, named as in the paper.
struct OuLuoTerms {
  double delta_C = 0.0;  ///< combined chromatic difference
  double HC = 0.0;       ///< from the chromatic difference
  double HL_sum = 0.0;   ///< from the sum of the lightnesses
  double H_dL = 0.0;     ///< from the difference of the lightnesses
  double HSY1 = 0.0;     ///< from the hue of the first
  double HSY2 = 0.0;     ///< from the hue of the second
  double CH = 0.0;       ///< harmony: about -1.24 (worst) to 1.39 (best)
};

/// Harmony of two colours. Advice only: it rewards near-misses and punishes complements, so it never decides.
/// The model was made for CIELAB under D65 on a screen; our D50 values go in as they are.
/// REQUIRES: finite coordinates. Symmetric up to rounding.
/// Source: Ou L.-C. & Luo M. R., "A colour harmony model for two-colour combinations", Color Res. Appl.
/// 31(3), 191-204 (2006), doi:10.1002/col.20208.
OuLuoTerms ou_luo_terms(const Lab& x, const Lab& y) noexcept;
/// What is the same in every pair that a colour is in, for tables.
struct OuLuoSide {
  double L = 0.0;
  double C = 0.0;
  double hue_degrees = 0.0;
  double effect = 0.0;  ///< HSY: how its hue alone sits in a pair
};
OuLuoSide ou_luo_side(const Lab& lab) noexcept;
OuLuoTerms ou_luo_terms(const OuLuoSide& x, const OuLuoSide& y) noexcept;
double ou_luo_harmony(const Lab& x, const Lab& y) noexcept;

}  // namespace kithue
