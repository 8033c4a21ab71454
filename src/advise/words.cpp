// SPDX-License-Identifier: MIT
#include "advise/words.h"

#include <algorithm>
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

struct Part {
  DifferenceWord word;
  double size = 0.0;
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
  const double h = hue_degrees(from);
  if (hue_gap_degrees(h, hue_degrees(to)) > 90.0) return {to.a - from.a, to.b - from.b};
  const Lab across = lab_from_lch({0.0, 1.0, h + (hue_part > 0.0 ? 90.0 : -90.0)});
  return {across.a, across.b};
}

std::vector<Part> parts_of(const Lab& from, const Lab& to, const DifferenceTerms& terms) {
  std::vector<Part> parts;
  const auto plain = [](Direction direction) { return DifferenceWord{direction, Amount::touch, false}; };
  parts.push_back(
      {plain(to.L > from.L ? Direction::lighter : Direction::darker), std::fabs(terms.lightness)});
  const double C1 = chroma(from);
  const double C2 = chroma(to);
  const bool both_neutral = std::max(C1, C2) < kNearNeutral;
  if (both_neutral || C1 < kGrey) {
    const Step straight{to.a - from.a, to.b - from.b};
    parts.push_back({hue_word(from, to, straight), std::hypot(terms.chroma, terms.hue)});
    return parts;
  }
  // CIEDE2000 stretches a*, so its chroma may grow where C*ab falls: then neither word would be true.
  if ((terms.chroma > 0.0) == (C2 > C1)) {
    parts.push_back({plain(C2 > C1 ? Direction::brighter : Direction::duller), std::fabs(terms.chroma)});
  }
  if (C2 >= kGrey) parts.push_back({hue_word(from, to, turn(from, to, terms.hue)), std::fabs(terms.hue)});
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
  std::vector<Part> parts = parts_of(from, to, terms);
  std::stable_sort(parts.begin(), parts.end(), [](const Part& x, const Part& y) { return x.size > y.size; });
  const double least = std::max(kWorthAWord, kShareOfLargest * parts.front().size);
  std::vector<DifferenceWord> words;
  for (const Part& part : parts) {
    if (part.size < least) continue;
    words.push_back(part.word);
    words.back().amount = amount_of(part.size);
  }
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
  for (const DifferenceWord& word : difference_parts(from, to, terms)) {
    if (!said.empty()) said += ", ";
    said += word.amount == Amount::touch ? "a touch " : word.amount == Amount::much ? "much " : "";
    said += word.less ? less_word(word.direction) : word_for(word.direction);
  }
  return said.empty() ? "hardly any difference" : said;
}

}  // namespace kithue
