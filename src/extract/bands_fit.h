// SPDX-License-Identifier: MIT
#pragma once

#include <array>
#include <cstddef>

#include "extract/line_fit.h"

namespace kithue::extract {

/// N bands side by side, without gaps, between the known colours of a cut.
template <std::size_t N>
struct BandsFit {
  std::array<double, N + 1> edges{};  ///< rising, from the left side to the right
  /// Each with the cost of all; `information` only of those between two others.
  std::array<CutColour, N> bands{};
  double cost = 0.0;  ///< sum of squares that the model leaves, as fit_cut counts it
  bool found = false;
};

/// Fits two or three bands where one was tried: `cut.middle` and `cut.width` say where it lay. Least squares
/// by Levenberg and Marquardt from a few places of the edges, of which the best is given. `most`: the cost of
/// fewer bands; more that soon do not cost less are given up.
BandsFit<2> fit_pair(const Cut& cut, const Smear& smear, double most);
BandsFit<3> fit_triple(const Cut& cut, const Smear& smear, double most);

/// The cut from the middle of the band before to the middle of the one after band `k`: one band is left, and
/// those beside it stand on its sides.
template <std::size_t N>
Cut cut_of_band(const Cut& cut, const BandsFit<N>& fit, std::size_t k);

extern template Cut cut_of_band(const Cut& cut, const BandsFit<2>& fit, std::size_t k);
extern template Cut cut_of_band(const Cut& cut, const BandsFit<3>& fit, std::size_t k);

}  // namespace kithue::extract
