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

/// The same for any number of swatches that one answer compares with each other, at most a sentence for each
/// reason. Null pointers and repetitions do not count. `others`: colours without a swatch are among them,
/// which are taken for dry.
std::vector<std::string> mixed_cautions(const std::vector<const Swatch*>& compared, bool others = false);

}  // namespace kithue
