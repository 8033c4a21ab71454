// SPDX-License-Identifier: MIT
#pragma once

#include <vector>

#include "kit/kit.h"
#include "kit/kit_check.h"

namespace kithue {

/// What is wrong with how pieces lie on their paper, in the order of the kit file: pieces that do not fit the
/// portions they are to be cut from, both sides of a portion wanted, folds across the grain.
std::vector<KitFinding> findings_of_fit(const Kit& kit);

}  // namespace kithue
