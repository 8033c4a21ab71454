// SPDX-License-Identifier: MIT
#pragma once

#include <cstddef>
#include <string>
#include <string_view>
#include <vector>

#include "advise/verdict.h"
#include "swatch/stash.h"

namespace kithue {

/// A way to build a set around one hue.
enum class Scheme {
  ladder,      ///< one hue, lighter and darker
  neighbours,  ///< 30 degrees to either side
  opposite,    ///< 180
  split,       ///< 150 and 210
  three,       ///< 120 and 240
  four         ///< 90, 180 and 270
};
std::string_view word_for(Scheme scheme) noexcept;  ///< "ladder", "neighbours", "opposite", ...

/// The circle on which the angles are measured.
enum class Circle {
  lab,     ///< CIELAB hue
  painter  ///< red, yellow and blue evenly spaced. Common practice, no source
};
/// The angle of a CIELAB hue on the circle, 0 up to 360. The painter's: red 0, orange 60, yellow 120, green
/// 180, blue 240, violet 300, at CIELAB hues 27, 62, 95, 150, 270 and 318, straight lines between.
double circle_degrees(double hue_degrees, Circle circle) noexcept;

struct HarmonyMember {
  NamedColour colour;
  std::string part;      ///< "anchor", "opposite", "neutral" ...
  double wanted = 0.0;   ///< degrees from the anchor; 0 for a neutral
  double off = 0.0;      ///< how far it misses that, degrees; 0 for a neutral
  double harmony = 0.0;  ///< Ou & Luo 2006 with the anchor: advice only
};

struct HarmonySet {
  Scheme scheme = Scheme::ladder;
  std::vector<HarmonyMember> members;  ///< the anchor first
  bool has_light = false;              ///< one fit for a base: L* 85 or more
  bool has_dark = false;               ///< one fit for words: L* 40 or less
  double lightness_spread = 0.0;       ///< L*
  double worst_off = 0.0;              ///< degrees
};

struct HarmonyOptions {
  Circle circle = Circle::lab;
  double tolerance = 15.0;  ///< degrees: a member further off is not offered
  double rung = 10.0;       ///< L*: least step of a ladder
};

/// The best set of each scheme from `owned`, in the order of Scheme; a scheme for which there is none is left
/// out. Near-neutrals (chroma under bands.neutral_chroma) never stand for a hue, and no two members clash or
/// are the same or a match. A neutral joins where one goes with all. Sets are preferred for small misses in
/// hue, then for a light, a dark and a wide lightness spread; ties by name.
/// Nothing for a near-neutral anchor.
std::vector<HarmonySet> harmony_sets(const NamedColour& anchor, const std::vector<NamedColour>& owned,
                                     const HarmonyOptions& options, const Bands& bands = {});

}  // namespace kithue
