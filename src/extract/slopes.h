// SPDX-License-Identifier: MIT
#pragma once

#include <cstdint>
#include <vector>

#include "extract/cells.h"
#include "extract/flat.h"

namespace kithue::extract {

/// Drops colours of gradients: their cells mostly lie on a long slope, and two that do not, one of them much
/// larger, mix to about what they are. False when there are none.
bool drop_gradients(FlatColours& flats, const Cells& cells, const FlatTest& flat, int grain,
                    const std::vector<std::uint8_t>& labels);

/// Drops colours of the further tiers whose cells mostly lie on a slope between two others: halfway from one
/// narrow band to the next, not in the middle of anything. False when there are none.
bool drop_slopes(FlatColours& flats, const Cells& cells, const FlatTest& flat,
                 const std::vector<std::uint8_t>& labels);

}  // namespace kithue::extract
