// SPDX-License-Identifier: MIT
#pragma once

#include <string>
#include <vector>

#include "swatch/swatch.h"

namespace kithue {

/// The readings that make a swatch's colour as a drawing of letters, 13 rows high and under 60 columns wide:
/// a* across and b* upwards around the value (+), L* in a column of its own, every reading by its number
/// (after 9 by a letter, several in one place as #). `far`: indices that get a "!" . Empty with fewer than
/// two readings. ASCII only.
std::string drawn_readings(const Swatch& swatch, const std::vector<std::size_t>& far);

}  // namespace kithue
