// SPDX-License-Identifier: MIT
#pragma once

#include <cstddef>
#include <cstdint>
#include <vector>

#include "extract/cells.h"
#include "extract/flat.h"

namespace kithue::extract {

/// Which of the small colours have no place but the middles of strokes a few cells wide. There the ground
/// still shines through: what looks flat is paler than the ink. None where they alone have edges with the
/// ground, for these tell how sharp the picture is. `labels` as labels_of gives them.
std::vector<std::size_t> narrow_colours(const FlatColours& flats, const Cells& cells,
                                        const std::vector<std::uint8_t>& labels);

/// True when a stroke of one of the `inks` on one of the first `sure` colours would look like `lab`: at
/// least half of the light is the ink's.
bool shines_through(const Lab& lab, const std::vector<Lab>& colours, std::size_t sure,
                    const std::vector<Lab>& inks);

}  // namespace kithue::extract
