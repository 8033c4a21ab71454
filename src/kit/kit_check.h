// SPDX-License-Identifier: MIT
#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "advise/verdict.h"
#include "kit/kit.h"
#include "kit/touching.h"
#include "swatch/stash.h"

namespace kithue {

enum class Severity {
  fault,  ///< mailed like this, the kit is wrong
  risk,   ///< may be wrong: try it, or measure
  note    ///< worth knowing
};
std::string_view word_for(Severity severity) noexcept;  ///< "fault", "risk", "note"

/// One thing that a kit should not be mailed without knowing.
struct KitFinding {
  Severity severity = Severity::note;
  std::string kind;    ///< "clash", "sentiment", "missing", "sides", "portion", "grain",
                       ///< "direction", "accent", "batch", "vision", "twice"
  std::string where;   ///< place in the kit file, "kit.toml:12:1", or empty
  std::string on;      ///< "Gulls: base + mat", "Gulls: panel", "face 1A", "sheet 1", or empty
  std::string what;    ///< in words
  std::string advice;  ///< what to do
};

/// Everything that is wrong with a kit or may be, worst first, then in the order of the file: touching pairs
/// that clash or are too close to call; words that do not read as they should, as printed on their piece;
/// bases on which no ink of the kit reads; stocks and inks that are not in the stash, retired or used up,
/// with their stand-in; pieces that do not fit their portion, both sides of a portion wanted, folds across
/// the grain; directional faces laid on their side; accents that no stock or ink of the kit picks up; stocks
/// whose batches differ; touching colours that merge, and words that do not read, for some eyes; faces on
/// more than one card. `faces` as in kit.faces.
std::vector<KitFinding> check_kit(const Kit& kit, const Stash& stash, const FaceColours& faces,
                                  const Bands& bands = {});

}  // namespace kithue
