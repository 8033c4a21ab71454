// SPDX-License-Identifier: MIT
#pragma once

#include <vector>

#include "extract/looks.h"

namespace kithue::extract {

/// One group or two, the larger first: looks that could all show one colour, and yet fall into two heaps with
/// next to nothing between them, as the lines of two inks of near brightness do. Along the direction in which
/// the colours of the looks scatter most a heap of its own is what lies four standard deviations off (the
/// threshold of Otsu 1979, "A threshold selection method from gray-level histograms"). Lines of one ink in
/// two widths are one group: how strong a line seems goes with its width.
std::vector<Group> parted(const Group& group);

}  // namespace kithue::extract
