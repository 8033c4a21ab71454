// SPDX-License-Identifier: MIT
#pragma once

#include <cstddef>
#include <cstdint>
#include <optional>
#include <vector>

#include "base/executor.h"
#include "extract/cells.h"
#include "extract/flat.h"

namespace kithue::extract {

/// Of each of so many colours the mean of the cells that lie in the middle of it; nothing of a colour without
/// such cells. What looks flat near an edge has still a part of what lies beside it, for JPEG smears colour
/// over several pixels. `labels` as labels_of gives them, `grain` as grain_of.
std::vector<std::optional<Lab>> interior_means(std::size_t colours, const Cells& cells, const FlatTest& flat,
                                               int grain, const std::vector<std::uint8_t>& labels,
                                               Executor& executor);

/// True when the cells up to `reach` away to the left, right, top and bottom are within so many steps of the
/// one at x, y. REQUIRES: they are there, in one run of rows.
bool is_like_all_around(const Cells& cells, int x, int y, int reach, int most) noexcept;

/// Moves colours that are far from the mean of their interior to it: two that smear into each other were
/// taken for one. False when none moves.
bool move_inside(std::vector<Lab>& colours, const std::vector<std::optional<Lab>>& interiors);

}  // namespace kithue::extract
