// SPDX-License-Identifier: MIT
#pragma once

#include <string_view>

#include "colour/lab.h"

namespace kithue {

/// Relative luminance of WCAG 2: 0.2126 R + 0.7152 G + 0.0722 B of linear sRGB, 0 or more.
/// Source: W3C, Web Content Accessibility Guidelines 2.2 (2023), "relative luminance".
double relative_luminance(const Lab& lab) noexcept;

/// Contrast ratio of two colours, 1 to 21 for surfaces; symmetric. A rule for screens: on card it is a guide.
/// Source: as above, "contrast ratio".
double contrast_ratio(const Lab& x, const Lab& y) noexcept;

/// What an ink can be used for on a stock.
enum class Reads {
  fine,     ///< fine text: contrast 4.5 or more
  bold,     ///< bold or large text: 3 or more
  picture,  ///< seen, but not for words: CIEDE2000 of 10 or more from the stock (common practice, no source)
  no
};
std::string_view word_for(Reads reads) noexcept;  ///< "fine", "bold", "picture", "no"

/// For the colour as printed on the stock. Limits of fine and bold: WCAG 2.2, 1.4.3, not rounded.
Reads reads_on(const Lab& printed, const Lab& stock) noexcept;

}  // namespace kithue
