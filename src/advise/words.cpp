// SPDX-License-Identifier: MIT
#include "advise/words.h"

#include <algorithm>
#include <array>
#include <cmath>

#include "base/text.h"

namespace kithue {
namespace {

constexpr double kWorthAWord = 0.5;
constexpr double kPlainFrom = 2.0;
constexpr double kMuchFrom = 6.0;
constexpr double kShareOfLargest = 0.25;
constexpr double kNearNeutral = 12.0;  // C*ab, as in Bands
constexpr double kGrey = 4.0;          // C*ab below which a colour has no hue to speak of
constexpr double kLight = 65.0;        // L* from which a red counts as a pink

struct WordPart {
  DifferenceWord word;
  double size = 0.0;
};

/// One part for lightness, one for chroma, one for hue: no more, the largest first.
struct Parts {
  std::array<WordPart, 3> all;
  std::size_t count = 0;
  void add(const WordPart& part) {
    std::size_t at = count++;
    for (; at > 0 && all[at - 1].size < part.size; --at) all[at] = all[at - 1];
    all[at] = part;
  }
};

/// A step in the a*b* plane.
struct Step {
  double a = 0.0;
  double b = 0.0;
};

/// Pink is a light red: said when the colour arrived at is light and lies around red, or has no hue.
bool may_be_pink(const Lab& to) {
  const double C = chroma(to);
  return to.L >= kLight && (C < kNearNeutral || hue_gap_degrees(hue_degrees(to), 0.0) <= 60.0);
}

/// The axis nearest to where the hue goes, among those that the whole difference follows too. The two steps
/// are less than a quarter turn apart, so at least one of the four plain axes serves.
Direction axis_of(const Step& hue, const Step& whole) {
  struct Axis {
    Direction direction;
    double a, b;
  };
  constexpr double kDiagonal = 0.70710678118654752;
  constexpr Axis kAxes[] = {{Direction::redder, 1, 0},
                            {Direction::yellower, 0, 1},
                            {Direction::greener, -1, 0},
                            {Direction::bluer, 0, -1},
                            {Direction::warmer, kDiagonal, kDiagonal},
                            {Direction::cooler, -kDiagonal, -kDiagonal}};
  Direction best = Direction::redder;
  double furthest = -1.0;
  for (const Axis& axis : kAxes) {
    const bool followed = whole.a * axis.a >= 0.0 && whole.b * axis.b >= 0.0 &&
                          (axis.a == 0.0 || whole.a != 0.0) && (axis.b == 0.0 || whole.b != 0.0);
    const double along = hue.a * axis.a + hue.b * axis.b;
    if (followed && along > furthest) {
      furthest = along;
      best = axis.direction;
    }
  }
  return best;
}

DifferenceWord hue_word(const Lab& from, const Lab& to, const Step& hue) {
  DifferenceWord word;
  word.direction = axis_of(hue, {to.a - from.a, to.b - from.b});
  switch (word.direction) {
    case Direction::redder:
      word.less = to.a <= 0.0;
      if (!word.less && may_be_pink(to)) word.direction = Direction::pinker;
      break;
    case Direction::greener:
      word.less = to.a >= 0.0;
      break;
    case Direction::yellower:
      word.less = to.b <= 0.0;
      break;
    case Direction::bluer:
      word.less = to.b >= 0.0;
      break;
    default:
      break;
  }
  return word;
}

/// The step with its chroma part taken out: across the line from the neutral axis. Further apart than a
/// quarter turn, "towards" is where the straight line points.
Step turn(const Lab& from, const Lab& to, double hue_part) {
  if (from.a * to.a + from.b * to.b < 0.0) return {to.a - from.a, to.b - from.b};
  const double along = (hue_part > 0.0 ? 1.0 : -1.0) / chroma(from);
  return {-from.b * along, from.a * along};
}

Parts parts_of(const Lab& from, const Lab& to, const DifferenceTerms& terms) {
  Parts parts;
  const auto plain = [](Direction direction) { return DifferenceWord{direction, Amount::touch, false}; };
  parts.add({plain(to.L > from.L ? Direction::lighter : Direction::darker), std::fabs(terms.lightness)});
  const double C1 = chroma(from);
  const double C2 = chroma(to);
  const bool both_neutral = std::max(C1, C2) < kNearNeutral;
  if (both_neutral || C1 < kGrey) {
    const Step straight{to.a - from.a, to.b - from.b};
    parts.add({hue_word(from, to, straight), std::hypot(terms.chroma, terms.hue)});
    return parts;
  }
  // CIEDE2000 stretches a*, so its chroma may grow where C*ab falls: then neither word would be true.
  if ((terms.chroma > 0.0) == (C2 > C1)) {
    parts.add({plain(C2 > C1 ? Direction::brighter : Direction::duller), std::fabs(terms.chroma)});
  }
  if (C2 >= kGrey) parts.add({hue_word(from, to, turn(from, to, terms.hue)), std::fabs(terms.hue)});
  return parts;
}

std::string_view less_word(Direction direction) {
  switch (direction) {
    case Direction::greener:
      return "less red";
    case Direction::bluer:
      return "less yellow";
    case Direction::redder:
      return "less green";
    case Direction::yellower:
      return "less blue";
    default:
      return word_for(direction);
  }
}

Amount amount_of(double size) {
  return size >= kMuchFrom ? Amount::much : size >= kPlainFrom ? Amount::plain : Amount::touch;
}

/// Those that are mentioned, with their amounts.
Parts worth_saying(const Lab& from, const Lab& to, const DifferenceTerms& terms) {
  Parts parts = parts_of(from, to, terms);
  const double least = std::max(kWorthAWord, kShareOfLargest * parts.all[0].size);
  std::size_t said = 0;
  while (said < parts.count && parts.all[said].size >= least) {
    parts.all[said].word.amount = amount_of(parts.all[said].size);
    ++said;
  }
  parts.count = said;
  return parts;
}

}  // namespace

std::string_view word_for(Direction direction) noexcept {
  switch (direction) {
    case Direction::lighter:
      return "lighter";
    case Direction::darker:
      return "darker";
    case Direction::brighter:
      return "brighter";
    case Direction::duller:
      return "duller";
    case Direction::redder:
      return "redder";
    case Direction::pinker:
      return "pinker";
    case Direction::warmer:
      return "warmer";
    case Direction::yellower:
      return "yellower";
    case Direction::greener:
      return "greener";
    case Direction::cooler:
      return "cooler";
    case Direction::bluer:
      return "bluer";
  }
  return "";
}

std::vector<DifferenceWord> difference_parts(const Lab& from, const Lab& to, const DifferenceTerms& terms) {
  const Parts parts = worth_saying(from, to, terms);
  std::vector<DifferenceWord> words;
  for (std::size_t i = 0; i < parts.count; ++i) words.push_back(parts.all[i].word);
  return words;
}

std::vector<DifferenceWord> difference_parts(const Lab& from, const Lab& to) {
  return difference_parts(from, to, ciede2000_terms(from, to));
}

std::string difference_words(const Lab& from, const Lab& to) {
  return difference_words(from, to, ciede2000_terms(from, to));
}

std::string difference_words(const Lab& from, const Lab& to, const DifferenceTerms& terms) {
  if (from == to) return "no difference";
  std::string said;
  said.reserve(48);
  const Parts parts = worth_saying(from, to, terms);
  for (std::size_t i = 0; i < parts.count; ++i) {
    const DifferenceWord& word = parts.all[i].word;
    if (!said.empty()) said += ", ";
    said += word.amount == Amount::touch ? "a touch " : word.amount == Amount::much ? "much " : "";
    said += word.less ? less_word(word.direction) : word_for(word.direction);
  }
  return said.empty() ? "hardly any difference" : said;
}

}  // namespace kithue
