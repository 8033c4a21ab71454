// SPDX-License-Identifier: MIT
#pragma once

#include <cstddef>
#include <cstdint>
#include <string>
#include <string_view>
#include <vector>

#include "base/result.h"
#include "kit/cut_plan.h"

namespace kithue {

/// Pieces of one paper and size that were left over. The width lies as it lay on the sheet, so that a pattern
/// or a grain still points the right way.
struct Scrap {
  std::string paper;  ///< a stock, or a sheet of the pack of `pack`
  std::string pack;   ///< the kit whose patterned paper it is; empty for a stock
  Size size;
  std::int64_t count = 1;
};

/// What a plan leaves, pieces of a size together, the largest first. Slivers are left out: what is narrower
/// than `least`.
std::vector<Scrap> scraps_of(const CutJob& job, const CutPlan& plan, const std::string& pack, Length least);

/// Both lists as one: pieces of the same paper and size are added up. In order of paper, then the largest
/// first.
std::vector<Scrap> with_scraps(const std::vector<Scrap>& there, const std::vector<Scrap>& more);

/// Pieces that a scrap is large enough for, as they may lie.
struct ScrapOffer {
  std::size_t piece = 0;  ///< index into CutJob::pieces
  std::size_t scrap = 0;  ///< index into the scraps
  std::int64_t each = 0;  ///< pieces that one such scrap gives, side by side; 1 or more
};

/// Where each piece of a job fits, the smallest scrap first; only scraps of the same paper. `pack` is the
/// name of the kit, for patterned paper.
std::vector<ScrapOffer> what_fits(const CutJob& job, const std::string& pack,
                                  const std::vector<Scrap>& scraps);

/// A scrap file: CSV with the columns paper, pack, size and count, sizes with their unit. Text is quoted and
/// guarded as in the stash's CSV, so reading what was written gives the same scraps to 0.001 mm.
std::string scraps_csv(const std::vector<Scrap>& scraps, Unit unit);
/// Errors: bad_input with the line: no such column, no size, no count.
Result<std::vector<Scrap>> scraps_from_csv(std::string_view text, const std::string& name);

}  // namespace kithue
