// SPDX-License-Identifier: MIT
#pragma once

#include <string>
#include <vector>

#include "swatch/swatch.h"

namespace kithue {

/// Why readings of the two should not be compared without care: M0 against M1 (ISO 13655: brightener glows
/// under one and not under the other), wet against dry. One sentence each; none when nothing is known to
/// differ. The same swatch twice asks about its own readings.
std::vector<std::string> comparison_cautions(const Swatch& x, const Swatch& y);

}  // namespace kithue
