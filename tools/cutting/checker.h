// SPDX-License-Identifier: MIT
#pragma once

#include <cstdint>
#include <string>

#include "kit/cut_plan.h"

namespace kithue::cutting {

/// What is wrong with a plan, or nothing. It makes the cuts one after the other on a sheet of its own: each
/// must go from edge to edge of exactly one part that is there, and in the end every part is a piece of the
/// plan or an offcut of it. So nothing overlaps, nothing hangs over, all can be cut with a guillotine, and
/// the areas add up. Pieces lie only as they may; each is cut as often as wanted.
std::string fault_in(const CutJob& job, const CutPlan& plan);

/// The least number of sheets, found by trying every way to share the pieces out and every cut at every sum
/// of sides: written apart from the program's search, from the top down. REQUIRES: few pieces, about seven.
std::int64_t fewest_sheets(const CutJob& job);

}  // namespace kithue::cutting
