// SPDX-License-Identifier: MIT
#pragma once

#include <vector>

#include "base/executor.h"
#include "extract/looks.h"
#include "extract/sharpness.h"

namespace kithue::extract {

/// How much better lines fit under a smear on the grid than under that of a lens.
Better grid_better_for_lines(const std::vector<Look>& looks, const EdgeSmear& lens, const EdgeSmear& grid,
                             Executor& executor);

/// Whether the smear acted on the grid, as edges and lines say it: either may be silent.
bool is_on_grid(const EdgeSmear& grid, const Better& edges, const Better& lines) noexcept;

}  // namespace kithue::extract
