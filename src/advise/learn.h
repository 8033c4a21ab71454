// SPDX-License-Identifier: MIT
#pragma once

#include <cstddef>
#include <string>
#include <vector>

#include "advise/verdict.h"
#include "swatch/stash.h"

namespace kithue {

/// The user's own verdict on two touching colours.
struct LabelledPair {
  NamedColour a;
  NamedColour b;
  bool clashes = false;
};

/// Bands that agree with the user.
struct LearnedBands {
  std::string too_few;  ///< why nothing was learned, in words; empty when it was
  Bands bands;          ///< the start with new limits of the near-miss band, same and step moved along
  std::size_t agree_before = 0;  ///< pairs on which the start agrees with her
  std::size_t agree_after = 0;   ///< on which the learned bands do: they have seen these pairs
  std::size_t agree_unseen =
      0;  ///< on which bands learned without the pair (or its tenth) do: the honest figure
};

/// Least pairs to learn from, in all and of each verdict. Common practice, no source.
inline constexpr std::size_t kLeastPairs = 20;
inline constexpr std::size_t kLeastOfEach = 6;

/// Fits where the near-miss band begins and ends: the most agreement, then the least change from `start`.
/// Pairs that clash by undertone or vibration count for agreement but not for the fit. Cross-validated by
/// leaving out each pair in turn, or each tenth of them when there are more than 200. Uncertainty of the
/// colours is not looked at.
LearnedBands learn_bands(const std::vector<LabelledPair>& pairs, const Bands& start = {});

}  // namespace kithue
