// SPDX-License-Identifier: MIT
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "advise/match.h"
#include "advise/verdict.h"
#include "swatch/stash.h"

namespace kithue {

/// A colour offered in place of another.
struct StandIn {
  Match match;                           ///< words say how it differs from what it replaces
  std::vector<std::string> near_misses;  ///< kit colours that it would clash with and the missing one did not
  bool good = true;                      ///< within the limit
};

struct StandInOptions {
  std::size_t count = 5;     ///< how many at most; 0 = all
  std::optional<Kind> kind;  ///< only this kind; empty: the kind of the missing swatch, any for a literal
  double limit = 6.0;        ///< dE00 above which there is no good stand-in. Common practice, no source
};

/// What is owned, in stock and not retired, nearest first (ties by name, then id), each with the clashes that
/// it would bring among the kit's other colours. The missing colour itself is never offered.
std::vector<StandIn> stand_ins(const Stash& stash, const NamedColour& missing,
                               const std::vector<NamedColour>& kit, const StandInOptions& options,
                               const Bands& bands = {});

/// One stand-in for each missing colour from a student's range, no swatch twice, with the least total
/// distance. Empty where the range has run out; `good` is false where the distance is over the limit.
/// `kit` as above; the stand-ins chosen for the other missing colours count as kit colours too.
std::vector<std::optional<StandIn>> stand_ins_one_to_one(const Stash& range,
                                                         const std::vector<NamedColour>& missing,
                                                         const std::vector<NamedColour>& kit,
                                                         const StandInOptions& options,
                                                         const Bands& bands = {});

}  // namespace kithue
