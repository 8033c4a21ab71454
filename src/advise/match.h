// SPDX-License-Identifier: MIT
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "advise/verdict.h"
#include "colour/lab.h"
#include "swatch/stash.h"

namespace kithue {

struct Match {
  const Swatch* swatch = nullptr;  ///< never null in an answer
  Lab lab;
  double de00 = 0.0;
  Verdict verdict = Verdict::distinct;
  std::string words;  ///< how the swatch differs from what was asked: "a touch darker, pinker"
};

struct MatchOptions {
  std::size_t count = 5;      ///< how many at most; 0 = all
  std::optional<Kind> kind;   ///< only this kind
  bool with_retired = false;  ///< retired and out-of-stock ones too
};

/// The nearest swatches by CIEDE2000, nearest first, ties by name then id. Unmeasurable swatches and those
/// without readings are left out. `wanted.swatch`, when it is in the stash, is left out as well.
std::vector<Match> nearest_swatches(const Stash& stash, const NamedColour& wanted,
                                    const MatchOptions& options, const Bands& bands = {});

}  // namespace kithue
