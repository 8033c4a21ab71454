// SPDX-License-Identifier: MIT
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "colour/spectrum.h"
#include "swatch/swatch.h"

namespace kithue {

/// Two surfaces under one light.
struct UnderLight {
  const Illuminant* light = nullptr;
  double de76 = 0.0;        ///< CIELAB difference as seen there
  double de00 = 0.0;        ///< CIEDE2000 as seen there; above about 5 it orders, it no longer measures
  double index_de76 = 0.0;  ///< metamerism index against the reference light, CIELAB
  double index_de00 = 0.0;  ///< the same in CIEDE2000
};

enum class LightVerdict {
  holds,    ///< under every lamp the pair is about as far apart as under the reference
  parts,    ///< under a lamp it comes apart
  differs,  ///< no match under the reference light to begin with
  unknown   ///< no spectrum
};
std::string_view word_for(LightVerdict verdict) noexcept;

/// How a match holds from light to light.
struct LightReport {
  LightVerdict verdict = LightVerdict::unknown;
  const Illuminant* reference = nullptr;
  std::vector<UnderLight> lights;  ///< the reference among them; none when unknown
  std::size_t worst = 0;           ///< the lamp with the largest index_de00
  std::string words;
};

/// Up to this dE00 a pair matches, and an index up to this is no parting. Common practice, no source.
inline constexpr double kHoldsDe00 = 2.0;

/// The lights that are compared: D50, D65, A, FL2, FL11, LED-B1 to LED-B5.
std::vector<const Illuminant*> lights_compared();

/// The mean of a swatch's own spectral readings, at 5 nm; nothing without any.
std::optional<Power> mean_spectrum(const Swatch& swatch);

/// Differences under each light, and the special index of metamerism for a change of light: the difference
/// under the test light after the second surface's X, Y and Z there were multiplied by what makes the two
/// equal under the reference light. Source: CIE 015:2018, 9.2 (CIE 15:2004, 9.2).
LightReport compare_under_lights(const Power& x, const Power& y, const Illuminant& reference,
                                 Observer observer);

}  // namespace kithue
