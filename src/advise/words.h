// SPDX-License-Identifier: MIT
#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "colour/difference.h"
#include "colour/lab.h"

namespace kithue {

/// One way in which a colour differs from another.
enum class Direction {
  lighter,
  darker,
  brighter,
  duller,
  redder,
  pinker,
  warmer,
  yellower,
  greener,
  cooler,
  bluer
};
std::string_view word_for(Direction direction) noexcept;

/// How much, on the scale of the weighted parts of CIEDE2000.
enum class Amount {
  touch,  ///< 0.5 to 2: "a touch darker"
  plain,  ///< 2 to 6: "darker"
  much    ///< 6 and more: "much darker"
};

struct DifferenceWord {
  Direction direction = Direction::lighter;
  Amount amount = Amount::touch;
  bool less = false;  ///< said from the other side: direction bluer with less = "less yellow"
  friend bool operator==(const DifferenceWord&, const DifferenceWord&) = default;
};

/// How `to` differs from `from`: at most one word for lightness, one for chroma (brighter, duller) and one
/// for hue, the largest first. A part below 0.5, or below a quarter of the largest, is not mentioned.
///
/// The hue word says where the difference points in the a*b* plane, its chroma part taken out: redder along
/// +a* (pinker for a light colour), yellower +b*, greener -a*, bluer -b*, warmer between red and yellow,
/// cooler between green and blue. It is never against the sign of the whole difference along that axis.
/// Colours that stay on the other side of the axis are said from there: "less yellow", not "bluer". Two
/// near-neutrals (chroma under 12) have no useful hue angle: there the whole a*b* difference gives the word,
/// and chroma none. Units and limits of the scale: common practice, no source; parts as in ciede2000_terms.
/// REQUIRES: finite coordinates.
std::vector<DifferenceWord> difference_parts(const Lab& from, const Lab& to);
/// The same from terms = ciede2000_terms(from, to), already at hand.
std::vector<DifferenceWord> difference_parts(const Lab& from, const Lab& to, const DifferenceTerms& terms);

/// The parts as text: "a touch darker, much pinker"; "no difference" for equal colours and "hardly any
/// difference" when no part is worth a word.
std::string difference_words(const Lab& from, const Lab& to);
/// The same from terms = ciede2000_terms(from, to), already at hand.
std::string difference_words(const Lab& from, const Lab& to, const DifferenceTerms& terms);

}  // namespace kithue
