// SPDX-License-Identifier: MIT
#include "extract/candidate.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <cstdint>
#include <map>

#include "extract/dots.h"
#include "extract/fit_looks.h"

namespace kithue::extract {
namespace {

/// True when something is broad against the smear and still fits no band: the mean of a pattern too fine to
/// see, such as hatching.
bool is_pattern(const LineColour& line, double sharp) {
  constexpr double kBroadBand = 6.0;  // times the smear
  constexpr double kManyLines = 7.0;  // pixels
  constexpr double kNoFit = 0.015;    // root mean square of the misfit, of white: lines have 0.002 to 0.009
  return line.width > std::max(kManyLines, kBroadBand * sharp) && line.misfit > kNoFit;
}

/// The known colour that most of the looks have on both sides.
std::uint8_t ground_of(const std::vector<const Look*>& looks) {
  std::array<std::size_t, kNoLabel> count{};
  for (const Look* look : looks) {
    if (look->core.left == look->core.right && look->core.left != kNoLabel) ++count[look->core.left];
  }
  const auto most = std::max_element(count.begin(), count.end());
  return 2 * *most < looks.size() ? kNoLabel : static_cast<std::uint8_t>(most - count.begin());
}

/// The known colours that most of the looks have on their two sides, in this order or the other.
std::array<std::uint8_t, 2> sides_of(const std::vector<const Look*>& looks) {
  std::map<std::array<std::uint8_t, 2>, std::size_t> count;
  for (const Look* look : looks) {
    const auto [first, second] = std::minmax(look->core.left, look->core.right);
    ++count[{first, second}];
  }
  const auto most = std::max_element(count.begin(), count.end(),
                                     [](const auto& a, const auto& b) { return a.second < b.second; });
  if (most == count.end() || 2 * most->second < looks.size()) return {kNoLabel, kNoLabel};
  return most->first;
}

DotSmear dot_smear(const Search& search) {
  constexpr double kShared = 1.0;  // what two pixels a sample add, by its variance
  const Sampling sampling = search.picture.sampling();
  const bool shared = sampling.across > 1 || sampling.down > 1;
  return {search.smear.sharp, shared ? std::hypot(search.smear.sharp, kShared) : search.smear.sharp};
}

}  // namespace

Lab lab_of_ink(Light light, const LightRows& picture) {
  for (double& one : light) one = std::min(one, 1.0);
  return lab_from_light(light, picture.to_xyz());
}

Candidate candidate_of(const Search& search, const Group& group, const Group* rival,
                       const Agreement& agreement, std::vector<Look>& looks, Executor& executor) {
  // Of a line narrower than this the cuts by themselves say too little contrast, and all together too much as
  // soon as the smear is thought a little too wide: while no edge has told it, the middle is nearest.
  constexpr double kTelling = 2.5;  // times the smear, as are the three below
  constexpr double kSureLine = 2.5;
  constexpr double kSureBetween = 3.2;  // two colours
  constexpr double kSureDot = 5.5;
  const double sharp = search.smear.sharp;
  Candidate out;
  LineColour& line = out.line;
  line = fit_together(cuts_of(group), search.smear, group.light, executor);
  if (search.detailed && !search.told && line.width < kTelling * sharp) {
    for (std::size_t c = 0; c < 3; ++c) line.light[c] = 0.5 * (line.light[c] + group.light[c]);
  }
  double cores = 0.0;
  for (Look& look : looks) {
    if (!look.open || !(agreement.agree(look, line.light) || agreement.agree(look, group.light))) continue;
    if (rival != nullptr) {
      const Worsening worse = agreement.worsening(look);
      if (worse.by(rival->light) < worse.by(group.light)) continue;
    }
    look.open = false;
    out.shown.push_back(&look);
    cores += look.stands_for * search.cores_a_look;
  }
  const std::uint8_t ground = ground_of(out.shown);
  out.dots = ground != kNoLabel && are_dots(out.shown);
  out.ink = out.dots ? light_of_dot(line, search.cutter.lights()[ground], dot_smear(search), search.told,
                                    one_way_of(out.shown))
                     : line.light;
  out.sure_width = (out.dots ? kSureDot : ground == kNoLabel ? kSureBetween : kSureLine) * sharp;
  out.colour = {lab_of_ink(out.ink, search.picture),
                line.width,
                line.misfit,
                static_cast<std::size_t>(cores),
                cores * std::max(1.0, line.width / search.cells.side),
                ground,
                sides_of(out.shown),
                is_pattern(line, sharp)};
  return out;
}

bool is_well_told(const Search& search, const Candidate& one) {
  constexpr std::size_t kLeastLooks = 48;
  constexpr double kGood = 0.006;  // root mean square of the misfit, of white
  return search.told && !one.dots && one.shown.size() >= kLeastLooks && one.colour.misfit <= kGood;
}

}  // namespace kithue::extract
