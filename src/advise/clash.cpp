// SPDX-License-Identifier: MIT
#include "advise/clash.h"

#include <algorithm>
#include <array>
#include <bit>
#include <cmath>
#include <functional>
#include <initializer_list>
#include <numbers>
#include <numeric>
#include <string_view>

#include "advise/ou_luo.h"
#include "advise/words.h"
#include "base/text.h"

namespace kithue {
namespace {

// "At least 8 L*" makes a step a clean one. Common practice, no source.
constexpr double kCleanStepLightness = 8.0;
constexpr double kMostly = 0.6;  // share of the squared parts that counts as "mostly"

/// An answer that an error in the numbers may turn round.
enum class Sure { no, maybe, yes };

Sure both(Sure x, Sure y) {
  return std::min(x, y);
}
Sure above(double value, double limit, double error) {
  return value - error > limit ? Sure::yes : value + error > limit ? Sure::maybe : Sure::no;
}
Sure at_most(double value, double limit, double error) {
  return value + error <= limit ? Sure::yes : value - error <= limit ? Sure::maybe : Sure::no;
}

constexpr unsigned bit(Verdict verdict) {
  return 1U << static_cast<unsigned>(verdict);
}
constexpr unsigned kClashes = bit(Verdict::near_miss) | bit(Verdict::undertone) | bit(Verdict::vibration);

/// One colour of a pair with what its error allows.
struct Side {
  double C = 0.0;
  double C_error = 0.0;
  double hue = 0.0;
  double hue_error = 0.0;  // degrees
};

/// What is the same in every pair that a colour is in.
using Known = OuLuoSide;

Known known_of(const NamedColour& colour) {
  return ou_luo_side(colour.lab);
}

Side side_of(const NamedColour& colour, const Known& known, const DifferenceTerms& t) {
  Side side{known.C, 0.0, known.hue_degrees, 0.0};
  if (colour.uncertainty > 0.0) {
    side.C_error = colour.uncertainty * t.SC;
    const double turn = side.C > 0.0 ? colour.uncertainty * t.SH / side.C : 1.0;
    side.hue_error = turn < 1.0 ? std::asin(turn) * 180.0 / std::numbers::pi : 180.0;
  }
  return side;
}

Sure undertone(const Side& a, const Side& b, double dL, const Judgement& j, const Bands& bands) {
  const DifferenceTerms& t = j.terms;
  const double lean = std::sqrt(std::max(0.0, t.chroma * t.chroma + t.hue * t.hue + t.RT * t.chroma * t.hue));
  Sure answer =
      both(above(bands.neutral_chroma, a.C, a.C_error), above(bands.neutral_chroma, b.C, b.C_error));
  answer =
      both(answer, above(hue_gap_degrees(a.hue, b.hue), bands.undertone_degrees, a.hue_error + b.hue_error));
  answer = both(answer, at_most(dL, bands.undertone_lightness, j.uncertainty * t.SL));
  return both(answer, above(lean, bands.match, j.uncertainty));
}

Sure vibration(const Side& a, const Side& b, double dL, const Judgement& j, const Bands& bands) {
  Sure answer = both(above(a.C, bands.vivid_chroma, a.C_error), above(b.C, bands.vivid_chroma, b.C_error));
  answer = both(answer, at_most(dL, bands.vibration_lightness, j.uncertainty * j.terms.SL));
  const double from_opposite = 180.0 - hue_gap_degrees(a.hue, b.hue);
  return both(answer, at_most(from_opposite, 180.0 - bands.vibration_degrees, a.hue_error + b.hue_error));
}

Verdict band_of(double de00, const Bands& bands) {
  return de00 <= bands.same        ? Verdict::same
         : de00 <= bands.match     ? Verdict::match
         : de00 <= bands.near_miss ? Verdict::near_miss
         : de00 <= bands.step      ? Verdict::step
                                   : Verdict::distinct;
}

/// The verdicts of the bands that an interval of distances meets.
unsigned bands_met(double low, double high, const Bands& bands) {
  constexpr std::array kOrder{Verdict::same, Verdict::match, Verdict::near_miss, Verdict::step,
                              Verdict::distinct};
  const auto rank = [&](double de00) {
    return std::find(kOrder.begin(), kOrder.end(), band_of(de00, bands)) - kOrder.begin();
  };
  unsigned met = 0;
  for (auto i = rank(low); i <= rank(high); ++i) met |= bit(kOrder[static_cast<std::size_t>(i)]);
  return met;
}

/// Every verdict that lies within the uncertainty.
unsigned possible(const Judgement& j, Sure is_undertone, Sure is_vibration, const Bands& bands) {
  const double low = std::max(0.0, j.terms.de00 - j.uncertainty);
  const double high = j.terms.de00 + j.uncertainty;
  const unsigned by_distance = bands_met(low, high, bands);
  constexpr unsigned kPasses = bit(Verdict::same) | bit(Verdict::match);
  unsigned met = by_distance & kPasses;
  if (high <= bands.match) return met;
  if (is_undertone != Sure::no) met |= bit(Verdict::undertone);
  if (is_undertone == Sure::yes) return met;
  if (is_vibration != Sure::no) met |= bit(Verdict::vibration);
  if (is_vibration == Sure::yes) return met;
  return met | (by_distance & ~kPasses);
}

std::string lean_word(const Lab& lab) {
  if (chroma(lab) < 1.0) return "does not lean";
  const double h = hue_degrees(lab);
  const char* colour = h < 45.0 || h >= 315.0 ? "pink" : h < 135.0 ? "yellow" : h < 202.5 ? "green" : "blue";
  return std::string("leans ") + colour;
}

/// One line of its parts, made in one piece: most pairs of a big stash have such a one.
std::vector<std::string> one_reason(std::initializer_list<std::string_view> parts) {
  std::size_t size = 0;
  for (const std::string_view part : parts) size += part.size();
  std::vector<std::string> reasons(1);
  reasons.front().reserve(size);
  for (const std::string_view part : parts) reasons.front() += part;
  return reasons;
}

std::vector<std::string> reasons_for(const NamedColour& a, const NamedColour& b, const Judgement& j,
                                     const std::string& words) {
  switch (j.verdict) {
    case Verdict::same:
      return {"the same to most eyes"};
    case Verdict::match:
      return {"close enough to pass as a match; a long touching edge may still show it"};
    case Verdict::near_miss: {
      std::vector<std::string> reasons{"close enough to look like a failed match: " + b.name + " is " +
                                       words};
      if (j.hue_share >= kMostly)
        reasons.emplace_back("the difference is in hue at nearly the same lightness, which shows most");
      return reasons;
    }
    case Verdict::undertone:
      return {"both nearly neutral, but " + a.name + " " + lean_word(a.lab) + " and " + b.name + " " +
              lean_word(b.lab) + ": side by side each makes the other look wrong"};
    case Verdict::vibration:
      return {"two vivid near-opposites of one lightness: the edge between them seems to shimmer"};
    case Verdict::step:
      return {j.mostly_lightness
                  ? "a clear step of one colour, mostly in lightness: " + b.name + " is " + words
                  : "apart, but not by lightness: look before you let them touch (" + b.name + " is " +
                        words + ")"};
    case Verdict::distinct:
      return one_reason({"clearly different: ", b.name, " is ", words});
    case Verdict::unsure:
      break;
  }
  return {};
}

std::vector<Verdict> listed(unsigned set) {
  std::vector<Verdict> out;
  for (unsigned v = 0; v < static_cast<unsigned>(Verdict::unsure); ++v) {
    if ((set & (1U << v)) != 0U) out.push_back(static_cast<Verdict>(v));
  }
  return out;
}

/// What would settle the verdict: better numbers for the less certain of the two.
std::string settle_by(const NamedColour& a, const NamedColour& b) {
  const NamedColour& worse = b.uncertainty > a.uncertainty ? b : a;
  const std::string size = fixed_number(worse.uncertainty, 1);
  if (worse.swatch == nullptr) return "measure " + worse.name + ", known only to about " + size;
  if (spread_of(*worse.swatch) >= worse.uncertainty)
    return "read " + worse.name + " again a few times: its readings scatter by " + size;
  return "measure " + worse.name + " with an instrument: its reading is only good to about " + size;
}

std::string unsure_reason(const Judgement& j, const std::vector<Verdict>& could_be) {
  std::vector<std::string> words;
  words.reserve(could_be.size());
  for (const Verdict verdict : could_be) words.emplace_back(word_for(verdict));
  return "too close to call: " + joined(words, " or ") + ", as " + fixed_number(j.terms.de00, 2) +
         " is known only to " + fixed_number(j.uncertainty, 2);
}

/// Sort key: near-miss, undertone, vibration, unsure, the rest.
int rank_of(Verdict verdict) {
  switch (verdict) {
    case Verdict::near_miss:
      return 0;
    case Verdict::undertone:
      return 1;
    case Verdict::vibration:
      return 2;
    case Verdict::unsure:
      return 3;
    default:
      return 4;
  }
}

double severity_of(const Judgement& j) {
  return j.verdict == Verdict::near_miss ? j.hue_share : 0.0;
}

PairVerdict described(const NamedColour& a, const NamedColour& b, const Known& known_a, const Known& known_b,
                      const Judgement& j) {
  PairVerdict pair;
  pair.de00 = j.terms.de00;
  pair.verdict = j.verdict;
  pair.words = difference_words(a.lab, b.lab, j.terms);
  pair.harmony = ou_luo_terms(known_a, known_b).CH;
  pair.uncertainty = j.uncertainty;
  pair.severity = severity_of(j);
  pair.terms = j.terms;
  if (j.verdict == Verdict::unsure) {
    pair.could_be = listed(j.could_be);
    pair.settle = settle_by(a, b);
    pair.reasons = {unsure_reason(j, pair.could_be)};
  } else {
    pair.reasons = reasons_for(a, b, j, pair.words);
  }
  return pair;
}

Judgement judged(const NamedColour& a, const NamedColour& b, const Known& known_a, const Known& known_b,
                 const Bands& bands) {
  Judgement j;
  j.terms = ciede2000_terms(a.lab, b.lab);
  j.uncertainty = std::hypot(a.uncertainty, b.uncertainty);
  const DifferenceTerms& t = j.terms;
  const double dL = std::fabs(a.lab.L - b.lab.L);
  const double squares = t.lightness * t.lightness + t.chroma * t.chroma + t.hue * t.hue;
  if (squares > 0.0) {
    j.hue_share = t.hue * t.hue / squares;
    j.mostly_lightness = dL >= kCleanStepLightness && t.lightness * t.lightness >= kMostly * squares;
  }
  const Side sa = side_of(a, known_a, t);
  const Side sb = side_of(b, known_b, t);
  j.could_be = possible(j, undertone(sa, sb, dL, j, bands), vibration(sa, sb, dL, j, bands), bands);
  if (std::has_single_bit(j.could_be)) {
    j.verdict = static_cast<Verdict>(std::countr_zero(j.could_be));
  } else if ((j.could_be & ~kClashes) == 0U) {
    // A clash whichever way it falls: say so, with the likeliest kind.
    const Verdict by_distance = band_of(t.de00, bands);
    j.verdict = (j.could_be & bit(by_distance)) != 0U ? by_distance
                                                      : static_cast<Verdict>(std::countr_zero(j.could_be));
  } else {
    j.verdict = Verdict::unsure;
  }
  return j;
}

/// Every index once, in pieces worth a thread's while.
void in_chunks(Executor& executor, std::size_t count, const std::function<void(std::size_t)>& one) {
  constexpr std::size_t kChunk = 2048;
  executor.run((count + kChunk - 1) / kChunk, [&](std::size_t chunk) {
    for (std::size_t i = chunk * kChunk; i < std::min(count, (chunk + 1) * kChunk); ++i) one(i);
  });
}

std::vector<Known> known_of_all(const std::vector<NamedColour>& colours) {
  std::vector<Known> known;
  known.reserve(colours.size());
  for (const NamedColour& colour : colours) known.push_back(known_of(colour));
  return known;
}

}  // namespace

Judgement judge(const NamedColour& a, const NamedColour& b, const Bands& bands) {
  return judged(a, b, known_of(a), known_of(b), bands);
}

std::vector<Judgement> judge_all(const std::vector<NamedColour>& colours, const Bands& bands) {
  std::vector<Judgement> all;
  if (colours.empty()) return all;
  all.reserve(colours.size() * (colours.size() - 1) / 2);
  const std::vector<Known> known = known_of_all(colours);
  for (std::size_t i = 0; i < colours.size(); ++i) {
    for (std::size_t k = i + 1; k < colours.size(); ++k)
      all.push_back(judged(colours[i], colours[k], known[i], known[k], bands));
  }
  return all;
}

PairVerdict judge_pair(const NamedColour& a, const NamedColour& b, const Bands& bands) {
  PairVerdict pair = described(a, b, known_of(a), known_of(b), judge(a, b, bands));
  pair.b = 1;
  return pair;
}

std::vector<PairVerdict> judge_these(const std::vector<NamedColour>& colours,
                                     const std::vector<std::pair<std::size_t, std::size_t>>& which,
                                     const Bands& bands, Executor& executor) {
  std::vector<Judgement> all(which.size());
  const std::vector<Known> known = known_of_all(colours);
  in_chunks(executor, which.size(), [&](std::size_t i) {
    const auto& [a, b] = which[i];
    all[i] = judged(colours[a], colours[b], known[a], known[b], bands);
  });
  // Put in order before the words are made: a pair with its words is heavy to move.
  std::vector<std::size_t> order(which.size());
  std::iota(order.begin(), order.end(), std::size_t{0});
  std::stable_sort(order.begin(), order.end(), [&](std::size_t x, std::size_t y) {
    const int rank_x = rank_of(all[x].verdict);
    const int rank_y = rank_of(all[y].verdict);
    return rank_x != rank_y ? rank_x < rank_y : severity_of(all[x]) > severity_of(all[y]);
  });
  std::vector<PairVerdict> pairs(which.size());
  in_chunks(executor, which.size(), [&](std::size_t i) {
    const auto& [a, b] = which[order[i]];
    pairs[i] = described(colours[a], colours[b], known[a], known[b], all[order[i]]);
    pairs[i].a = a;
    pairs[i].b = b;
  });
  return pairs;
}

std::vector<PairVerdict> judge_pairs(const std::vector<NamedColour>& colours, const Bands& bands,
                                     Executor& executor) {
  std::vector<std::pair<std::size_t, std::size_t>> which;
  if (!colours.empty()) which.reserve(colours.size() * (colours.size() - 1) / 2);
  for (std::size_t i = 0; i < colours.size(); ++i) {
    for (std::size_t k = i + 1; k < colours.size(); ++k) which.emplace_back(i, k);
  }
  return judge_these(colours, which, bands, executor);
}

std::vector<PairVerdict> judge_pairs(const std::vector<NamedColour>& colours, const Bands& bands) {
  SerialExecutor serial;
  return judge_pairs(colours, bands, serial);
}

bool is_clash(Verdict verdict) noexcept {
  return (bit(verdict) & kClashes) != 0U;
}

}  // namespace kithue
