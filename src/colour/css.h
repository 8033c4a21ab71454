// SPDX-License-Identifier: MIT
#pragma once

#include <string>
#include <string_view>

#include "base/result.h"
#include "colour/lab.h"

namespace kithue {

/// True for text that can only be meant as a CSS colour literal: it starts with '#', "lab(", "lch(",
/// "rgb(" or "rgba(" (any case).
bool looks_like_css(std::string_view text);

/// A CSS Color 4 literal: lab(), lch(), rgb() and rgba() in both syntaxes, #rgb, #rgba, #rrggbb, #rrggbbaa;
/// numbers, percentages, angles with units, "none". lab() and lch() are D50 as CSS says; rgb is sRGB.
/// Commas between the numbers are forgiven in lab() and lch() too; decimal commas are refused.
/// Errors: bad_input with what is wrong in words: unknown form, a missing or bad number, alpha below 1 (a
/// swatch is opaque), and, where CSS would clamp, values out of range: lightness outside 0-100, a* or b*
/// beyond +-200, chroma below 0, red, green or blue outside 0-255.
/// Source: W3C CSS Color Module Level 4, sections 4, 5 and 9.
Result<Lab> lab_from_css(std::string_view text);

/// "lab(52.13 43.2 -21)", shortest digits that read back the same; decimals limits them when 0 or more.
/// REQUIRES, as the two below: finite coordinates.
std::string css_lab(const Lab& lab, int decimals = -1);
/// "lch(52.13 48.03 333.9)".
std::string css_lch(const Lab& lab, int decimals = -1);
/// "rgb(200 85 61)", in gamut as hex_from_lab.
std::string css_rgb(const Lab& lab);

}  // namespace kithue
