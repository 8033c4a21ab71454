// SPDX-License-Identifier: MIT
#include "advise/harmony.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <optional>

#include "advise/clash.h"
#include "advise/ou_luo.h"

namespace kithue {
namespace {

constexpr double kBaseWorthy = 85.0;       // L*
constexpr double kSentimentWorthy = 40.0;  // L*
constexpr std::size_t kMostPerPart = 14;   // the nearest in hue; more would only be further off

struct HuePart {
  std::string_view name;
  double degrees;
};

struct Plan {
  Scheme scheme;
  std::vector<HuePart> parts;
};

const std::vector<Plan>& plans() {
  static const std::vector<Plan> kPlans{
      {Scheme::ladder, {{"lighter", 0.0}, {"darker", 0.0}}},
      {Scheme::neighbours, {{"neighbour", -30.0}, {"neighbour", 30.0}}},
      {Scheme::opposite, {{"opposite", 180.0}}},
      {Scheme::split, {{"beside the opposite", 150.0}, {"beside the opposite", 210.0}}},
      {Scheme::three, {{"third", 120.0}, {"third", 240.0}}},
      {Scheme::four, {{"quarter", 90.0}, {"opposite", 180.0}, {"quarter", 270.0}}}};
  return kPlans;
}

struct HueCandidate {
  const NamedColour* colour;
  double off;
};

/// Everything that is fixed while one anchor is worked on.
struct HarmonySearch {
  const NamedColour& anchor;
  const HarmonyOptions& options;
  const Bands& bands;
  std::vector<const NamedColour*> coloured;
  std::vector<const NamedColour*> neutrals;
};

bool goes_with(const NamedColour& a, const NamedColour& b, const Bands& bands) {
  const Verdict verdict = judge(a, b, bands).verdict;
  return verdict == Verdict::step || verdict == Verdict::distinct;
}

std::vector<HueCandidate> candidates_for(const HarmonySearch& work, Scheme scheme, const HuePart& part) {
  const double home = circle_degrees(hue_degrees(work.anchor.lab), work.options.circle);
  std::vector<HueCandidate> found;
  for (const NamedColour* colour : work.coloured) {
    const double at = circle_degrees(hue_degrees(colour->lab), work.options.circle);
    const double off = hue_gap_degrees(at, std::fmod(home + part.degrees + 360.0, 360.0));
    if (off > work.options.tolerance) continue;
    if (scheme == Scheme::ladder) {
      const double step = colour->lab.L - work.anchor.lab.L;
      if ((part.name == "lighter" ? step : -step) < work.options.rung) continue;
    }
    if (goes_with(work.anchor, *colour, work.bands)) found.push_back({colour, off});
  }
  std::stable_sort(found.begin(), found.end(),
                   [](const HueCandidate& x, const HueCandidate& y) { return x.off < y.off; });
  if (found.size() > kMostPerPart) found.resize(kMostPerPart);
  return found;
}

struct Scored {
  std::vector<HueCandidate> members;
  const NamedColour* neutral = nullptr;
  double score = 0.0;
};

/// Smaller is better: misses in tolerances, less what lightness adds.
double score_of(const HarmonySearch& work, const std::vector<HueCandidate>& members,
                const NamedColour* neutral) {
  double miss = 0.0;
  double lightest = work.anchor.lab.L;
  double darkest = work.anchor.lab.L;
  const auto see = [&](const Lab& lab) {
    lightest = std::max(lightest, lab.L);
    darkest = std::min(darkest, lab.L);
  };
  for (const HueCandidate& one : members) {
    miss += one.off / work.options.tolerance / static_cast<double>(members.size());
    see(one.colour->lab);
  }
  if (neutral != nullptr) see(neutral->lab);
  return miss - (lightest >= kBaseWorthy ? 0.5 : 0.0) - (darkest <= kSentimentWorthy ? 0.5 : 0.0) -
         (lightest - darkest) / 200.0 - (neutral != nullptr ? 0.25 : 0.0);
}

/// The neutral that adds most, among those that go with everything; none is a choice too.
void add_neutral(const HarmonySearch& work, Scored& set) {
  set.score = score_of(work, set.members, nullptr);
  for (const NamedColour* neutral : work.neutrals) {
    const double score = score_of(work, set.members, neutral);
    if (score >= set.score - 1e-12) continue;
    const bool goes = goes_with(work.anchor, *neutral, work.bands) &&
                      std::all_of(set.members.begin(), set.members.end(), [&](const HueCandidate& one) {
                        return goes_with(*one.colour, *neutral, work.bands);
                      });
    if (!goes) continue;
    set.neutral = neutral;
    set.score = score;
  }
}

void extend(const HarmonySearch& work, const std::vector<std::vector<HueCandidate>>& parts,
            std::vector<HueCandidate>& members, std::optional<Scored>& best) {
  if (members.size() == parts.size()) {
    Scored set{members, nullptr, 0.0};
    // A neutral can add at most this much: no need to look for one where that is not enough.
    constexpr double kMostFromNeutral = 0.25 + 0.5 + 0.5 + 0.5;
    if (best && score_of(work, members, nullptr) - kMostFromNeutral >= best->score) return;
    add_neutral(work, set);
    if (!best || set.score < best->score - 1e-12) best = set;
    return;
  }
  for (const HueCandidate& next : parts[members.size()]) {
    const bool goes = std::all_of(members.begin(), members.end(), [&](const HueCandidate& one) {
      return one.colour != next.colour && goes_with(*one.colour, *next.colour, work.bands);
    });
    if (!goes) continue;
    members.push_back(next);
    extend(work, parts, members, best);
    members.pop_back();
  }
}

HarmonySet described(const HarmonySearch& work, const Plan& plan, const Scored& found) {
  HarmonySet set;
  set.scheme = plan.scheme;
  set.members.push_back({work.anchor, "anchor", 0.0, 0.0, 0.0});
  for (std::size_t i = 0; i < found.members.size(); ++i) {
    const HueCandidate& one = found.members[i];
    set.members.push_back({*one.colour, std::string(plan.parts[i].name), plan.parts[i].degrees, one.off,
                           ou_luo_harmony(work.anchor.lab, one.colour->lab)});
    set.worst_off = std::max(set.worst_off, one.off);
  }
  if (found.neutral != nullptr) {
    set.members.push_back(
        {*found.neutral, "neutral", 0.0, 0.0, ou_luo_harmony(work.anchor.lab, found.neutral->lab)});
  }
  double lightest = 0.0;
  double darkest = 100.0;
  for (const HarmonyMember& member : set.members) {
    lightest = std::max(lightest, member.colour.lab.L);
    darkest = std::min(darkest, member.colour.lab.L);
  }
  set.has_light = lightest >= kBaseWorthy;
  set.has_dark = darkest <= kSentimentWorthy;
  set.lightness_spread = lightest - darkest;
  return set;
}

}  // namespace

std::string_view word_for(Scheme scheme) noexcept {
  switch (scheme) {
    case Scheme::ladder:
      return "ladder";
    case Scheme::neighbours:
      return "neighbours";
    case Scheme::opposite:
      return "opposite";
    case Scheme::split:
      return "split";
    case Scheme::three:
      return "three";
    case Scheme::four:
      return "four";
  }
  return "";
}

double circle_degrees(double hue, Circle circle) noexcept {
  if (circle == Circle::lab) return hue;
  constexpr std::array<double, 7> kHues{27.0, 62.0, 95.0, 150.0, 270.0, 318.0, 387.0};
  const double h = hue < kHues.front() ? hue + 360.0 : hue;
  for (std::size_t i = 0; i + 1 < kHues.size(); ++i) {
    if (h < kHues[i + 1]) return 60.0 * (static_cast<double>(i) + (h - kHues[i]) / (kHues[i + 1] - kHues[i]));
  }
  return 0.0;
}

std::vector<HarmonySet> harmony_sets(const NamedColour& anchor, const std::vector<NamedColour>& owned,
                                     const HarmonyOptions& options, const Bands& bands) {
  std::vector<HarmonySet> sets;
  if (chroma(anchor.lab) < bands.neutral_chroma) return sets;
  HarmonySearch work{anchor, options, bands, {}, {}};
  for (const NamedColour& colour : owned) {
    if (colour.swatch != nullptr && colour.swatch == anchor.swatch) continue;
    (chroma(colour.lab) < bands.neutral_chroma ? work.neutrals : work.coloured).push_back(&colour);
  }
  const auto by_name = [](const NamedColour* x, const NamedColour* y) { return x->name < y->name; };
  std::stable_sort(work.coloured.begin(), work.coloured.end(), by_name);
  std::stable_sort(work.neutrals.begin(), work.neutrals.end(), by_name);
  for (const Plan& plan : plans()) {
    std::vector<std::vector<HueCandidate>> parts;
    for (const HuePart& part : plan.parts) parts.push_back(candidates_for(work, plan.scheme, part));
    std::optional<Scored> best;
    std::vector<HueCandidate> members;
    extend(work, parts, members, best);
    if (best) sets.push_back(described(work, plan, *best));
  }
  return sets;
}

}  // namespace kithue
