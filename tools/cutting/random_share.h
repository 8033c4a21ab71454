// SPDX-License-Identifier: MIT
#pragma once

#include <cstdint>
#include <random>
#include <string>

#include "kit/allocation.h"

namespace kithue::cutting {

/// Patterned paper and wishes made up from chance. `small`: at most six pieces, so that every sharing out can
/// be tried.
AllocationJob random_share(std::mt19937_64& dice, bool small);

/// What is wrong with an allocation, or nothing: its plans are checked cut by cut, so that no area shows two
/// sides; they take no more sheets than there are; they hold what is granted; the score adds up.
std::string fault_in(const AllocationJob& job, const Allocation& allocation);

/// The best score, found by trying every sharing out. REQUIRES: few pieces.
std::int64_t best_score(const AllocationJob& job);

}  // namespace kithue::cutting
