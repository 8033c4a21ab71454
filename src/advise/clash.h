// SPDX-License-Identifier: MIT
#pragma once

#include <cstddef>
#include <string>
#include <vector>

#include "advise/verdict.h"
#include "swatch/stash.h"

namespace kithue {

/// What is said of one pair.
struct PairVerdict {
  std::size_t a = 0;  ///< index into the colours given
  std::size_t b = 0;
  double de00 = 0.0;
  Verdict verdict = Verdict::distinct;
  std::vector<std::string> reasons;  ///< plain words, never empty
  double harmony = 0.0;              ///< Ou & Luo 2006: advice only, about -2 to 2; never decides
};

/// Judges one touching pair.
PairVerdict judge_pair(const NamedColour& a, const NamedColour& b, const Bands& bands = {});

/// All pairs of the colours, worst first (near-miss, undertone, vibration; then unsure; then the rest),
/// ties in the order given.
std::vector<PairVerdict> judge_pairs(const std::vector<NamedColour>& colours, const Bands& bands = {});

/// True for the verdicts that count as a clash: near_miss, undertone, vibration.
bool is_clash(Verdict verdict) noexcept;

}  // namespace kithue
