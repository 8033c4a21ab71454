// SPDX-License-Identifier: MIT
#pragma once

#include <cstdint>
#include <vector>

#include "base/executor.h"
#include "extract/cells.h"

namespace kithue::extract {

/// The part of the area that each colour covers, from all cells: flat cells have one colour (`labels`);
/// others are divided, in linear light, between the two colours that mix to them best, of those found near
/// by first. The shares add up to 1.
std::vector<double> shares_of(const Cells& cells, const std::vector<std::uint8_t>& labels,
                              const std::vector<Lab>& colours, Executor& executor);

}  // namespace kithue::extract
