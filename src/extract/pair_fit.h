// SPDX-License-Identifier: MIT
#pragma once

#include <array>

#include "extract/band.h"

namespace kithue::extract {

/// Two bands side by side between the known colours of a cut.
struct PairFit {
  Light first{};
  Light second{};
  std::array<double, 3> edges{};  ///< rising: left side, between the two, right side
  double cost = 0.0;              ///< sum of squares that the model leaves, as fit_cut counts it
  bool found = false;
};

/// Fits two bands where one was tried: `cut.middle` and `cut.width` say where it lay. Least squares by
/// Levenberg and Marquardt from three places of the edge between them, of which the best is given.
/// `one_band`: the cost of the cut's own fit; two bands that soon do not cost less are given up.
PairFit fit_pair(const Cut& cut, const Smear& smear, double one_band);

/// The cut up to the middle of the second band, or from the middle of the first: one band is left in each,
/// and the other stands on its side.
Cut first_half(const Cut& cut, const PairFit& pair);
Cut second_half(const Cut& cut, const PairFit& pair);

}  // namespace kithue::extract
