// SPDX-License-Identifier: MIT
#pragma once

#include <cstdint>
#include <random>

#include "kit/cut_plan.h"

namespace kithue::cutting {

/// A number from least to most, both among them.
std::int64_t between(std::mt19937_64& dice, std::int64_t least, std::int64_t most);

/// A job made up from chance. `small`: at most seven pieces in all, so that every plan can be tried; else up
/// to eight kinds with up to 60 of each. Sizes are eighths of an inch, whole millimetres or any nanometres;
/// some pieces may lie only one way.
CutJob random_job(std::mt19937_64& dice, bool small);

}  // namespace kithue::cutting
