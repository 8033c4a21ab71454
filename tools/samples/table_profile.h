// SPDX-License-Identifier: MIT
#pragma once

#include <string>

namespace kithue::samples {

/// A printer profile of RGB whose A2B1 is a table into Lab of `points` a side, smooth and invented, made by
/// Little CMS.
std::string table_profile(unsigned points);

}  // namespace kithue::samples
