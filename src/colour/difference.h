// SPDX-License-Identifier: MIT
#pragma once

#include "colour/lab.h"

namespace kithue {

/// CIEDE2000 colour difference between two swatches, with kL = kC = kH = 1.
///
/// Units:   dE00, no dimension. 0 = same; about 1 = just visible side by side;
///          above about 5 the number still ranks, but no longer measures.
/// Range:   0 or more. Symmetric: swapping the arguments gives the same bits.
/// Domain:  any finite Lab, inside or outside the printable gamut (coordinates past +-1e30 count as 1e30).
/// Errors:  never throws; a NaN or an infinity in a coordinate gives NaN.
/// Source:  ISO/CIE 11664-6:2022; steps and check data from Sharma, Wu & Dalal,
///          Color Res. Appl. 30(1), 21-30 (2005), doi:10.1002/col.20070.
double ciede2000(const Lab& x, const Lab& y) noexcept;

/// The terms of CIEDE2000, named as in Table 1 of the paper, and the three weighted parts.
struct DifferenceTerms {
  double a1_prime = 0.0;      ///< a' of the first colour
  double a2_prime = 0.0;      ///< a' of the second
  double C1_prime = 0.0;      ///< C' of the first
  double C2_prime = 0.0;      ///< C' of the second
  double h1_degrees = 0.0;    ///< h' of the first, 0-360
  double h2_degrees = 0.0;    ///< h' of the second, 0-360
  double mean_degrees = 0.0;  ///< mean hue; the sum of both hues when either chroma is 0
  double G = 0.0;             ///< correction of a*
  double T = 0.0;             ///< hue term of the hue weight
  double SL = 0.0;            ///< lightness weight
  double SC = 0.0;            ///< chroma weight
  double SH = 0.0;            ///< hue weight
  double RT = 0.0;            ///< rotation term
  double lightness = 0.0;     ///< (L2 - L1) / SL: positive when the second is lighter
  double chroma = 0.0;        ///< (C2' - C1') / SC: positive when the second is brighter
  double hue = 0.0;           ///< dH' / SH: positive when the second lies anticlockwise of the first
  double de00 = 0.0;          ///< the difference itself
};

/// The same computation with every step kept. REQUIRES: finite coordinates.
DifferenceTerms ciede2000_terms(const Lab& x, const Lab& y) noexcept;

}  // namespace kithue
