// SPDX-License-Identifier: MIT
#pragma once

#include <cstdint>
#include <functional>
#include <vector>

#include "base/executor.h"
#include "colour/light_rows.h"
#include "extract/cells.h"
#include "extract/sharpness.h"

namespace kithue::extract {

/// Sets a* and b* of colours right that have plain places in narrow bands between others only: their cells
/// still hold colour differences of what is beside them. Some of their bands are fitted as lines, whose model
/// knows how JPEG spreads these; brightness stays. `labels` as labels_of gives them, `plain` the number of
/// colours that have plain places, `gain` the light at a pixel as a part of the mean. Gives which colours
/// were told.
std::vector<bool> refine_narrow_bands(const LightRows& picture, const Cells& cells,
                                      const std::vector<std::uint8_t>& labels, std::size_t plain,
                                      const EdgeSmear& smear, std::vector<Lab>& colours,
                                      const std::function<double(double, double)>& gain, Executor& executor);

}  // namespace kithue::extract
