// SPDX-License-Identifier: MIT
#pragma once

#include "extract/band.h"

namespace kithue::extract {

/// How well a cut fits when nothing but an edge between its two sides is there: the sum of squares that is
/// left, counted as fit_cut does (`trust_chroma` 0: brightness alone). `middle`: where to begin to look for
/// the edge, then where it was found.
double edge_cost(const Cut& cut, const Smear& smear, double& middle);

/// False when some of the cut is brighter or darker than both its sides: no edge is.
bool may_be_soft_edge(const Cut& cut);

/// As edge_cost, of an edge that was drawn soft: over some pixels one side goes over into the other in light,
/// at an even pace.
double soft_edge_cost(const Cut& cut, const Smear& smear);

}  // namespace kithue::extract
