// SPDX-License-Identifier: MIT
#pragma once

#include <string_view>

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

}  // namespace kithue
