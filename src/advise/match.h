// SPDX-License-Identifier: MIT
#pragma once

#include <cstddef>
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
  double uncertainty = 0.0;  ///< dE00, of both colours together
  Verdict verdict = Verdict::distinct;
  std::string words;  ///< how the swatch differs from what was asked: "a touch darker, pinker"
};

struct MatchOptions {
  std::size_t count = 5;      ///< how many at most; 0 = all
  std::optional<Kind> kind;   ///< only this kind
  bool with_retired = false;  ///< retired and out-of-stock ones too
};

/// Above this distance the number orders, it no longer measures (CIEDE2000 was fitted to small differences).
inline constexpr double kOrdersOnlyAbove = 5.0;

/// The swatch as a colour with its name and uncertainty; nothing when it has no number.
std::optional<NamedColour> named_colour_of(const Swatch& swatch);

/// The nearest swatches by CIEDE2000, nearest first, ties by name then id. Unmeasurable swatches and those
/// without readings are left out. `wanted.swatch`, when it is in the stash, is left out as well.
std::vector<Match> nearest_swatches(const Stash& stash, const NamedColour& wanted,
                                    const MatchOptions& options, const Bands& bands = {});

/// The swatches that the options would offer if only they had a number, in order of id.
std::vector<const Swatch*> left_out_of_match(const Stash& stash, const NamedColour& wanted,
                                             const MatchOptions& options);

}  // namespace kithue
