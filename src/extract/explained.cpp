// SPDX-License-Identifier: MIT
#include "extract/explained.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <iterator>
#include <utility>

#include "colour/difference.h"
#include "extract/doubles.h"
#include "extract/edge_fit.h"
#include "extract/fit_looks.h"
#include "extract/mixture.h"
#include "extract/rare_looks.h"

namespace kithue::extract {
namespace {

/// True when a fit went as far as light can go in a line too narrow to tell, and few others show it.
bool is_overshot(const Light& ink, double width, double sharp, std::size_t looks, std::size_t most_looks) {
  constexpr double kNarrow = 2.2;
  const auto [least, most] = std::minmax_element(ink.begin(), ink.end());
  const bool at_end = *least < 1e-3 || *most > 1.0;
  return at_end && width < kNarrow * sharp && 4 * looks < most_looks;
}

/// Of a candidate's cuts so many, evenly.
std::vector<const Cut*> some_cuts(const Candidate& one) {
  constexpr std::size_t kCuts = 24;
  std::vector<const Cut*> cuts;
  for (std::size_t i = 0; i < one.shown.size(); i += 1 + one.shown.size() / kCuts)
    cuts.push_back(&one.shown[i]->cut);
  return cuts;
}

/// True when no narrower line of another colour fits its cuts as well, not even under a somewhat larger
/// smear, though it looks like a mixture.
bool is_own(const Search& search, const Candidate& one, const std::vector<ThinColour>& found) {
  constexpr double kSame = 4.0;   // dE00
  constexpr double kNear = 10.0;  // Lab units from the way to the other colour
  constexpr double kWorse = 2.0;  // times the cost
  constexpr double kLargerSmear = 1.04;
  const ThinColour& colour = one.colour;
  if (!is_well_told(search, one)) return false;
  const std::vector<const Cut*> cuts = some_cuts(one);
  const double most = kWorse * cost_with(cuts, search.smear, one.ink);
  const auto on_the_way = [&](const Lab& other) {
    return std::any_of(search.known.begin(), search.known.end(), [&](const Lab& ground) {
      return distance_to(colour.lab, mixture_chain(ground, other)) < kNear;
    });
  };
  const auto fits = [&](const Lab& other) {
    if (ciede2000(other, colour.lab) < kSame) return true;
    if (!on_the_way(other)) return false;
    const Light light = light_from_lab(other, inverse(search.picture.to_xyz()));
    Smear larger = search.smear;
    larger.sharp *= kLargerSmear;
    return cost_with(cuts, search.smear, light) < most || cost_with(cuts, larger, light) < most;
  };
  return std::none_of(search.known.begin(), search.known.end(), fits) &&
         std::none_of(found.begin(), found.end(), [&](const ThinColour& other) { return fits(other.lab); });
}

/// True when a light is less than such a part of the contrast off another on this ground.
bool is_near(const Light& light, const Light& other, const Light& ground, double part) {
  double off = 0.0;
  double contrast = 0.0;
  for (std::size_t c = 0; c < 3; ++c) {
    off = std::max(off, std::abs(light[c] - other[c]));
    contrast = std::max(contrast, std::abs(other[c] - ground[c]));
  }
  return off < part * contrast;
}

/// True when a known ink near to it, on the same ground, fits the cuts of a narrow line as well under a
/// somewhat smaller or larger smear: staves beside notes, outlines of plain shapes.
bool is_known_ink(const Search& search, const Candidate& one) {
  constexpr double kNear = 0.12;   // of the contrast, in each light
  constexpr double kNarrow = 3.0;  // times the smear
  constexpr double kWorse = 1.5;   // times the cost
  constexpr std::array kSmears{0.88, 0.92, 0.96, 1.0, 1.04};
  if (one.colour.ground == kNoLabel || one.dots || one.line.width > kNarrow * search.smear.sharp)
    return false;
  std::vector<Light> inks = search.cutter.lights();
  const Light ground = inks[one.colour.ground];
  std::erase_if(inks, [&](const Light& ink) { return !is_near(one.ink, ink, ground, kNear); });
  if (inks.empty()) return false;
  const std::vector<const Cut*> cuts = some_cuts(one);
  const double most = kWorse * cost_with(cuts, search.smear, one.ink);
  return std::any_of(inks.begin(), inks.end(), [&](const Light& ink) {
    return std::any_of(kSmears.begin(), kSmears.end(), [&](double factor) {
      Smear other = search.smear;
      other.sharp *= factor;
      return cost_with(cuts, other, ink) < most;
    });
  });
}

/// True when it is as far from its ground as a known colour, but for what the smear leaves open in a line:
/// near black a hundredth of the light is several dE00.
bool is_as_strong(const Search& search, const Candidate& one) {
  constexpr double kOpen = 0.022;     // of the contrast
  constexpr double kSureWidth = 5.0;  // times the smear
  if (one.colour.ground == kNoLabel || one.dots || one.line.width > kSureWidth * search.smear.sharp)
    return false;
  const auto& lights = search.cutter.lights();
  const Light& ground = lights[one.colour.ground];
  return std::any_of(lights.begin(), lights.end(),
                     [&](const Light& known) { return is_near(one.ink, known, ground, kOpen); });
}

/// True when what most of its looks show between two known colours is as well an edge that was drawn soft:
/// paint that runs into the paper, a shadow that fades.
bool is_soft_edge(const Search& search, const Candidate& one) {
  constexpr std::size_t kLooks = 24;
  constexpr double kWorse = 3.0;    // times the cost of a band, which has more that is free
  constexpr double kGood = 0.0075;  // root mean square of the misfit, of white
  std::vector<const Look*> between;
  std::copy_if(one.shown.begin(), one.shown.end(), std::back_inserter(between),
               [](const Look* look) { return look->core.left != look->core.right; });
  if (2 * between.size() < one.shown.size()) return false;
  std::vector<double> worse;
  std::vector<double> misfit2;
  for (std::size_t i = 0; i < between.size(); i += 1 + between.size() / kLooks) {
    const Look& look = *between[i];
    const double cost = soft_edge_cost(look.cut, search.smear);
    worse.push_back(cost / std::max(1e-12, look.own.cost));
    misfit2.push_back(cost / std::max(1.0, look.own.weight));
  }
  return median_of(std::move(worse)) < kWorse && median_of(std::move(misfit2)) < kGood * kGood;
}

/// The ground that it lies on. Else the known colours that a tenth of its looks have on a side, all where too
/// few looks know theirs; and those as bright, from which it may have faded.
std::vector<Lab> around(const Search& search, const Candidate& one) {
  constexpr double kAsBright = 1.0;  // L*
  if (one.colour.ground != kNoLabel) return {search.known[one.colour.ground]};
  std::vector<std::size_t> sides(search.known.size(), 0);
  std::size_t told = 0;
  for (const Look* look : one.shown) {
    if (look->core.left == kNoLabel) continue;
    ++told;
    ++sides[look->core.left];
    if (look->core.right != look->core.left) ++sides[look->core.right];
  }
  std::vector<Lab> out;
  for (std::size_t i = 0; i < sides.size(); ++i) {
    const bool as_bright = std::abs(search.known[i].L - one.colour.lab.L) < kAsBright;
    if (2 * told < one.shown.size() || 10 * sides[i] >= told || as_bright) out.push_back(search.known[i]);
  }
  return out;
}

/// True when many places show one broad band of one colour: relief is another in every light.
bool is_drawn(const Search& search, const Candidate& one) {
  return is_well_told(search, one) && one.colour.width > kBroad * search.smear.sharp;
}

/// True when most of its looks are such, before any fit, against the mixtures of all colours.
template <typename IsSuch>
bool most_show(const Candidate& one, std::vector<Lab> colours, const std::vector<ThinColour>& found,
               IsSuch is_such) {
  for (const ThinColour& other : found) colours.push_back(other.lab);
  const Mixtures mixtures(colours);
  const auto such = std::count_if(one.shown.begin(), one.shown.end(), [&](const Look* look) {
    return is_such(lab_of(look->core.lab), mixtures);
  });
  return 2 * static_cast<std::size_t>(such) > one.shown.size();
}

/// As is_vivid, of greys and pale or dark colours too.
bool is_no_mixture(const Candidate& one, const std::vector<Lab>& colours,
                   const std::vector<ThinColour>& found) {
  constexpr double kFar = 15.0;  // Lab units
  return most_show(one, colours, found,
                   [](const Lab& seen, const Mixtures& mixtures) { return mixtures.all_miss(seen, kFar); });
}

}  // namespace

bool is_vivid(const Candidate& one, const std::vector<Lab>& colours, const std::vector<ThinColour>& found) {
  return most_show(one, colours, found, is_unlike_all);
}

bool is_explained(const Search& search, const Candidate& one, const std::vector<ThinColour>& found,
                  std::size_t most_looks) {
  constexpr double kLeastArea = 0.001;
  constexpr double kLeastOfMany =
      0.0002;  // of what many of the looks show: inside groups of lines no core is seen
  constexpr double kLeastVivid = 0.0004;
  constexpr std::size_t kMany = 64;  // looks
  constexpr double kGood = 0.006;    // root mean square of the misfit, of white
  constexpr double kFair = 0.008;
  constexpr double kPlain = 5.0;  // times the smear: the edges of such a line hardly reach its middle
  constexpr double kGoodDot = 0.012;
  constexpr double kUnlike = 0.014;
  constexpr double kNoBand = 0.03;
  constexpr double kMostly = 0.4;  // of the looks
  const ThinColour& colour = one.colour;
  const double sharp = search.smear.sharp;
  const double least = one.shown.size() >= kMany && colour.misfit < kGood ? kLeastOfMany : kLeastArea;
  const bool shown_by_most =
      static_cast<double>(one.shown.size()) >= kMostly * static_cast<double>(search.open_looks);
  // In a weave or pile cuts that fit no band agree on something by chance.
  if (search.grain >= kMostGrain && colour.misfit > kNoBand && !shown_by_most) return true;
  const double area = static_cast<double>(search.cells.count());
  if (colour.cells < least * area &&
      (colour.cells < kLeastVivid * area || !is_vivid(one, search.known, found)))
    return true;
  // Beside a twin no band fits well, but what most show and nothing mixes to is there.
  if (!colour.pattern && !one.dots && colour.misfit > kUnlike &&
      (!shown_by_most || one.shown.size() < kMany || !is_no_mixture(one, search.known, found)))
    return true;
  // Relief is light and shade on the sheet around.
  const std::vector<Lab> sheets = around(search, one);
  if (same_as_known(colour.lab, search.known) || is_as_strong(search, one) || is_known_ink(search, one) ||
      is_relief(colour.lab, sheets, search.grain, is_drawn(search, one)) ||
      is_overshot(one.ink, one.line.width, sharp, one.shown.size(), most_looks)) {
    return true;
  }
  const bool broad = one.dots ? colour.width > one.sure_width && colour.misfit < kGoodDot
                              : (colour.width > kBroad * sharp && colour.misfit < kGood) ||
                                    (colour.width > kPlain * sharp && colour.misfit < kFair);
  const bool mixed =
      same_ray(colour, one.sure_width, one.dots, search.detailed, search.known, found) ||
      is_faded(colour, search.known, found) ||
      (search.detailed && is_smeared(colour, search.cutter.lights(), search.sure, search.known_cells, found,
                                     colour.ground != kNoLabel, broad, search.picture.to_xyz()));
  return (mixed && !is_own(search, one, found)) || is_soft_edge(search, one);
}

}  // namespace kithue::extract
