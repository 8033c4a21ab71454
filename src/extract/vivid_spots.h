// SPDX-License-Identifier: MIT
#pragma once

#include <cstdint>
#include <vector>

#include "base/executor.h"
#include "extract/cells.h"

namespace kithue::extract {

/// Vivid colours of small things that are no mixture of the `colours`, found where they fill a few cells each
/// way: too small to be flat, and too broad to be lines. `labels` as labels_of gives them for these colours.
std::vector<Lab> vivid_spots(const Cells& cells, const std::vector<std::uint8_t>& labels,
                             const std::vector<Lab>& colours, Executor& executor);

}  // namespace kithue::extract
