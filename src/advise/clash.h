// SPDX-License-Identifier: MIT
#pragma once

#include <cstddef>
#include <string>
#include <utility>
#include <vector>

#include "advise/verdict.h"
#include "base/executor.h"
#include "colour/difference.h"
#include "swatch/stash.h"

namespace kithue {

/// The verdict on one pair without its words: cheap enough for every pair of a whole stash.
struct Judgement {
  Verdict verdict = Verdict::distinct;
  DifferenceTerms terms;          ///< from the first to the second
  double uncertainty = 0.0;       ///< dE00: those of both colours together, as independent errors
  unsigned could_be = 0;          ///< bit v set: Verdict v lies within the uncertainty
  bool mostly_lightness = false;  ///< at least 8 L* apart, and lightness is most of the difference
  double hue_share = 0.0;         ///< 0-1: the share of hue in the squared weighted parts
};

/// Judges one touching pair. In this order: up to `match` a pair passes; then undertone (two near-neutrals
/// that lean visibly different ways at a similar lightness), vibration, and the bands by distance.
/// `unsure` when another verdict lies within the uncertainty of the two colours.
/// REQUIRES: finite coordinates.
Judgement judge(const NamedColour& a, const NamedColour& b, const Bands& bands = {});

/// Every pair i < j in the order (0,1), (0,2), ... (1,2), ...
std::vector<Judgement> judge_all(const std::vector<NamedColour>& colours, const Bands& bands = {});

/// What is said of one pair.
struct PairVerdict {
  std::size_t a = 0;  ///< index into the colours given
  std::size_t b = 0;
  double de00 = 0.0;
  Verdict verdict = Verdict::distinct;
  std::vector<std::string> reasons;  ///< plain words, never empty
  double harmony = 0.0;              ///< Ou & Luo 2006: advice only, about -1.24 to 1.39; never decides
  std::string words;                 ///< how b differs from a: "a touch darker, pinker"
  double uncertainty = 0.0;          ///< dE00
  std::vector<Verdict> could_be;     ///< when unsure: the verdicts within the uncertainty
  std::string settle;                ///< when unsure: what to measure; else empty
  double severity = 0.0;  ///< orders pairs of one verdict, worst high: the hue share of a near-miss
  DifferenceTerms terms;
};

/// Judges one touching pair.
PairVerdict judge_pair(const NamedColour& a, const NamedColour& b, const Bands& bands = {});

/// All pairs of the colours, worst first: near-miss (hue before lightness), undertone, vibration; then
/// unsure; then the rest. Ties in the order given.
std::vector<PairVerdict> judge_pairs(const std::vector<NamedColour>& colours, const Bands& bands = {});
std::vector<PairVerdict> judge_pairs(const std::vector<NamedColour>& colours, const Bands& bands,
                                     Executor& executor);

/// The same for some pairs only, such as those that touch in a kit: indices into the colours, below its size.
std::vector<PairVerdict> judge_these(const std::vector<NamedColour>& colours,
                                     const std::vector<std::pair<std::size_t, std::size_t>>& which,
                                     const Bands& bands, Executor& executor);

/// True for the verdicts that count as a clash: near_miss, undertone, vibration.
bool is_clash(Verdict verdict) noexcept;

}  // namespace kithue
