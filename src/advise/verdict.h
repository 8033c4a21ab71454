// SPDX-License-Identifier: MIT
#pragma once

#include <optional>
#include <string_view>
#include <vector>

namespace kithue {

/// What two colours do side by side.
enum class Verdict {
  same,
  match,
  near_miss,  ///< looks like a failed match
  undertone,  ///< two near-neutrals that lean different ways
  vibration,  ///< two vivid near-opposites of one lightness
  step,
  distinct,
  unsure  ///< the uncertainty straddles a limit
};
/// "same", "match", "near-miss", "undertone", "vibration", "step", "distinct", "unsure".
std::string_view word_for(Verdict verdict) noexcept;

/// Limits between the verdicts, in dE00 unless said otherwise.
/// Source: common practice, no source; the user can set them.
struct Bands {
  double same = 1.0;
  double match = 2.0;
  double near_miss = 6.0;
  double step = 12.0;
  double neutral_chroma = 12.0;       ///< C*ab: below this a colour is a near-neutral
  double undertone_degrees = 60.0;    ///< hue gap from which two near-neutrals clash
  double undertone_lightness = 25.0;  ///< L*: further apart they read as light and dark, and do not clash
  double vivid_chroma = 50.0;         ///< C*ab: above this a colour can vibrate
  double vibration_lightness = 10.0;  ///< L*: vibrating colours are at most this far apart
  double vibration_degrees = 150.0;   ///< hue gap from which two vivid colours are near-opposite
};

/// The usual limits with those of the four bands set: same, match, near-miss and step, in that order. Nothing
/// unless there are four that rise from 0 to 1000.
std::optional<Bands> bands_of(const std::vector<double>& limits);

}  // namespace kithue
