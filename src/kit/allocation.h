// SPDX-License-Identifier: MIT
#pragma once

#include <cstddef>
#include <cstdint>
#include <string>
#include <vector>

#include "base/result.h"
#include "kit/cut_plan.h"
#include "kit/kit.h"

namespace kithue {

/// A side of a sheet that a wish could be cut from.
struct WishSide {
  std::size_t sheet = 0;  ///< index into AllocationJob::sheets
  std::string face;       ///< the side that shows; empty: both, for a portion
  bool upright = true;
  bool turned = true;
  std::int64_t score = 1;  ///< what each piece cut from it is worth, 1 or more
};

/// Pieces that are wanted from the patterned paper.
struct Wish {
  std::string name;
  Size size;
  std::int64_t count = 0;
  std::vector<WishSide> sides;  ///< the best first
};

/// The patterned paper that is there. One piece of paper shows one side: what is cut to show A is gone from
/// B.
struct AllocationJob {
  Size sheet;
  struct Sheets {
    std::string sheet;
    std::int64_t count = 0;
  };
  std::vector<Sheets> sheets;
  std::vector<Wish> wishes;
};

/// How many pieces of a wish are cut from one of its sides.
struct Granted {
  std::size_t wish = 0;
  std::size_t side = 0;
  std::int64_t count = 0;
};

struct Allocation {
  std::vector<Granted> granted;  ///< in the order of the wishes and their sides, none of 0
  std::vector<CutJob> jobs;      ///< for each of AllocationJob::sheets
  std::vector<CutPlan> plans;    ///< of these jobs; none takes more sheets than are there
  std::int64_t score = 0;        ///< of all that is granted
  std::int64_t best_score = 0;   ///< had every wish its best side
  bool best = false;             ///< proved: no other sharing out scores more
};

/// Shares the paper out so that the score is large: by trying all where there is little, else side after side
/// in several orders, each wish as far as its sheets go, the best of them. Errors: impossible, for a wish
/// that fits its sheet in no way it may lie.
Result<Allocation> allocate(const AllocationJob& job);

/// The score of what must be there before anything is wished: portions and snippets.
inline constexpr std::int64_t kMustScore = 1'000'000;

/// What a kit wants from so many packs: its portions and snippets first, then the pieces of its cards, each
/// from its face or, for less, from one of the others it may show.
AllocationJob allocation_job(const Kit& kit, std::int64_t packs);

}  // namespace kithue
