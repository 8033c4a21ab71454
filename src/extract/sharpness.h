// SPDX-License-Identifier: MIT
#pragma once

#include <vector>

#include "base/executor.h"
#include "extract/cut.h"

namespace kithue::extract {

/// The smear of plain edges between two known colours, from many cuts: the median. A cut with something else
/// between the two does not fit and is left out. Smears from `least` pixels to eight times that are tried.
/// Negative when too few can tell.
double edge_sharpness(const std::vector<Cut>& cuts, double least, Executor& executor);

/// The smear under which lines of unknown colour fit best.
double line_sharpness(std::vector<Cut> cuts, double chroma2, Executor& executor);

}  // namespace kithue::extract
