// SPDX-License-Identifier: MIT
#include "extract/thin.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <iterator>
#include <map>
#include <optional>
#include <unordered_map>
#include <utility>

#include "colour/difference.h"
#include "extract/crossings.h"
#include "extract/dots.h"
#include "extract/doubles.h"
#include "extract/edge_fit.h"
#include "extract/fit_looks.h"
#include "extract/mixture.h"
#include "extract/rare_looks.h"
#include "extract/ray.h"
#include "extract/two_inks.h"

namespace kithue::extract {
namespace {

constexpr double kDoubtedSmear = 1.6;  // pixels: a smear that may be something else
constexpr double kMuchSharper = 0.6;   // times the other smear

/// Nothing else lies between the two sides: an outline there would be taken for smear.
bool is_plain(const Edge& edge, const Cells& cells, const std::vector<Lab>& known) {
  constexpr double kPlainStandsOut = 6.0;  // Lab units, and this part of the sides' own distance
  constexpr double kPlainEdgePart = 0.2;
  const MixtureChain chain = mixture_chain(known[edge.left], known[edge.right]);
  const double most = kPlainStandsOut + kPlainEdgePart * lab_distance(known[edge.left], known[edge.right]);
  for (int step = 1 - edge.before; step < edge.after; ++step) {
    const int x = edge.across_x ? edge.x + step : edge.x;
    const int y = edge.across_x ? edge.y : edge.y + step;
    if (distance_to(lab_of(cells.row(y)[x]), chain) > most) return false;
  }
  return true;
}

/// Some of the plain edges, evenly over the picture. `reach`: cells that the cuts go to each side; 0: as far
/// as the known colours are off.
std::vector<Cut> cuts_over(const std::vector<const Edge*>& edges, const Cells& cells,
                           const std::vector<Lab>& known, const Cutter& cutter, double reach) {
  constexpr std::size_t kMost = 48;
  constexpr std::size_t kTried = 8;  // for each that is taken
  std::vector<Cut> cuts;
  const std::size_t step = std::max<std::size_t>(1, edges.size() / kMost);
  const std::size_t shorter = std::max<std::size_t>(1, step / kTried);
  for (std::size_t first = step / 2; first < step / 2 + step && cuts.size() < kMost; first += shorter) {
    for (std::size_t i = first % step; i < edges.size(); i += step) {
      const Edge& e = *edges[i];
      if (!is_plain(e, cells, known)) continue;
      cuts.push_back(cutter.at(e.x, e.y, e.left, e.right, e.across_x, reach > 0.0 ? reach : e.before + 0.5,
                               reach > 0.0 ? reach : e.after + 0.5));
    }
  }
  return cuts;
}

/// Edges of large plain places tell best, in a blurred picture farther off. Without them those of strokes do,
/// as far as the stroke is plain; and where those are much sharper, outlines hide in the edges of the others.
EdgeSmear sharpness_of(const Found& found, const Cells& cells, const std::vector<Lab>& known,
                       const Cutter& cutter, Executor& executor) {
  constexpr double kSharp = 0.33;  // pixels
  constexpr double kNear = 2.5;    // cells
  constexpr double kFar = 8.0;
  std::vector<const Edge*> sure;
  std::vector<const Edge*> others;
  for (const Edge& e : found.edges) (e.sure ? sure : others).push_back(&e);
  EdgeSmear smear = edge_sharpness(cuts_over(sure, cells, known, cutter, kNear), kSharp, executor);
  if (smear.sharp <= 0.0) {
    for (const Edge& e : found.soft_edges) sure.push_back(&e);
    smear = edge_sharpness(cuts_over(sure, cells, known, cutter, kFar), kDoubtedSmear, executor);
  }
  if (smear.sharp > 0.0 && smear.sharp < kDoubtedSmear) return smear;
  const EdgeSmear strokes = edge_sharpness(cuts_over(others, cells, known, cutter, 0.0), kSharp, executor);
  const bool sharper = strokes.sharp > 0.0 && strokes.sharp < kMuchSharper * smear.sharp;
  return smear.sharp <= 0.0 || sharper ? strokes : smear;
}

/// True when a fit went as far as light can go in a line too narrow to tell, and few others show it.
bool is_overshot(const Light& ink, double width, double sharp, std::size_t looks, std::size_t most_looks) {
  constexpr double kNarrow = 2.2;
  const auto [least, most] = std::minmax_element(ink.begin(), ink.end());
  const bool at_end = *least < 1e-3 || *most > 1.0;
  return at_end && width < kNarrow * sharp && 4 * looks < most_looks;
}

/// True when something is broad against the smear and still fits no band: the mean of a pattern too fine to
/// see, such as hatching.
bool is_pattern(const LineColour& line, double sharp) {
  constexpr double kBroadBand = 6.0;  // times the smear
  constexpr double kManyLines = 7.0;  // pixels
  constexpr double kNoFit = 0.015;    // root mean square of the misfit, of white: lines have 0.002 to 0.009
  return line.width > std::max(kManyLines, kBroadBand * sharp) && line.misfit > kNoFit;
}

/// How many cells bear each colour's label.
std::vector<double> cells_of_labels(const std::vector<std::uint8_t>& labels, std::size_t colours,
                                    Executor& executor) {
  const auto count = count_labels(labels, executor);
  return {count.begin(), count.begin() + static_cast<std::ptrdiff_t>(colours)};
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

/// Leaves out places whose block of 16 x 16 pixels holds other lines as well: its mean colour would be said
/// to be this line's.
void leave_out_crowded(const LightRows& picture, const Cutter& cutter, const std::vector<Core>& cores,
                       const std::vector<ThinColour>& colours, std::size_t first,
                       std::vector<ThinPlace>& places) {
  constexpr int kTile = 16;
  constexpr double kForeign = 6.0;  // Lab units from what the line and its sides mix to
  constexpr double kMostPart = 1.3;
  constexpr double kLeastColour = 0.2;
  const Matrix3 from_xyz = inverse(picture.to_xyz());
  const int across = picture.width() / kTile + 1;
  const auto block_of = [&](const LinePlace& line) {
    return static_cast<std::size_t>(static_cast<int>(line.y) / kTile) * static_cast<std::size_t>(across) +
           static_cast<std::size_t>(static_cast<int>(line.x) / kTile);
  };
  std::unordered_map<std::size_t, std::size_t> holds;
  for (std::size_t i = 0; i < places.size(); ++i) holds.emplace(block_of(places[i].line), i);
  std::map<std::pair<std::size_t, std::size_t>, Ray> rays;
  const auto miss_of = [&](const Core& core, std::size_t side, std::size_t thin) {
    const auto at = std::pair(side, thin);
    auto found = rays.find(at);
    if (found == rays.end()) {
      const Light ink = light_from_lab(colours[thin - first].lab, from_xyz);
      found = rays.emplace(at, Ray(cutter.lights()[side], ink, picture.to_xyz())).first;
    }
    double miss = Ray::kNever;
    const double part = found->second.part_of(lab_of(core.lab), miss, kLeastColour);
    return part > kMostPart ? Ray::kNever : miss;
  };
  std::vector<bool> crowded(places.size(), false);
  for (const Core& core : cores) {
    const auto found =
        holds.find(block_of(cutter.place(core.x, core.y, core.left, core.right, core.across_x)));
    if (found == holds.end()) continue;
    const ThinPlace& place = places[found->second];
    if (std::min(miss_of(core, place.left, place.thin), miss_of(core, place.right, place.thin)) > kForeign)
      crowded[found->second] = true;
  }
  std::vector<ThinPlace> kept;
  for (std::size_t i = 0; i < places.size(); ++i) {
    if (holds.at(block_of(places[i].line)) == i && !crowded[i]) kept.push_back(places[i]);
  }
  places = std::move(kept);
}

/// No ink is lighter than the picture's white, whatever a fit of narrow lines says.
Lab lab_of_ink(Light light, const LightRows& picture) {
  for (double& one : light) one = std::min(one, 1.0);
  return lab_from_light(light, picture.to_xyz());
}

constexpr double kBroad = 3.2;  // times the smear: the middle of such a line is plain

/// Sets the smear right by what crossings of narrow strokes say, and fits the strokes again under it.
void deepen(const LightRows& picture, const Cutter& cutter, const std::vector<Core>& cores,
            const std::vector<Stroke>& strokes, Executor& executor, ThinFindings& out) {
  constexpr double kLeastChange = 0.002;
  const std::vector<Depth> depths = depths_of(picture, cutter, cores, strokes, out.smear.sharp, executor);
  const SmearFromDepth smear(strokes, depths, out.smear.sharp, out.sure);
  const double sharp = smear.sharp();
  if (std::abs(sharp - out.smear.sharp) < kLeastChange * out.smear.sharp) return;
  std::vector<Light> lights(strokes.size());
  for (std::size_t i = 0; i < strokes.size(); ++i)
    lights[i] = fit_together(strokes[i].cuts, {sharp, out.smear.excess}, strokes[i].ink, executor).light;
  for (std::size_t i = 0; i < strokes.size(); ++i) {
    if (strokes[i].ground == kNoLabel) continue;
    const Light& ground = cutter.lights()[strokes[i].ground];
    // Of a narrow stroke the crossings tell more than its shape does.
    if (depths[i].told && !out.sure && strokes[i].width < kBroad * out.smear.sharp) {
      const double contrast = smear.contrast(strokes[i], depths[i]);
      for (std::size_t c = 0; c < 3; ++c)
        lights[i][c] = std::max(0.0, ground[c] + contrast * (strokes[i].ink[c] - ground[c]));
    }
    out.colours[i].lab = lab_of_ink(lights[i], picture);
  }
  out.smear.sharp = sharp;
}

/// What a search for lines works with.
struct Search {
  const LightRows& picture;
  const Cells& cells;
  const Cutter& cutter;
  const std::vector<Lab>& known;
  std::vector<double> known_cells;
  std::size_t sure;  ///< the first so many of these have large plain places
  int grain;
  bool detailed;
  Smear smear;
  bool told;  ///< edges told the smear
  double cores_a_look;
  std::size_t open_looks;  ///< before any is explained
};

/// Looks at some of the cores. Gives none where there are too few, and tells the smear where edges did not.
struct Looker {
  const Found& found;
  const std::vector<Lab>& known;
  const Cutter& cutter;
  int side;
  int most_bands;
  Executor& executor;

  [[nodiscard]] std::vector<Look> first(ThinFindings& out) const {
    return fitted(512, Rare::looked_for, out);
  }
  /// A second look takes only what shows in a tenth of the cuts: a part of them tells that as well, and a
  /// part of these that there is nothing.
  [[nodiscard]] std::vector<Look> second(ThinFindings& out) const {
    constexpr std::size_t kMost = 192;
    std::vector<Look> some = fitted(kMost / 2, Rare::left, out);
    if (some.empty() || Grouping(some, Agreement(some), executor).largest().looks.empty()) return {};
    return fitted(kMost, Rare::left, out);
  }

 private:
  /// The smear that the lines tell, where edges told none, or so wide a one that outlines along them may pass
  /// for it.
  void ask_lines(const std::vector<Look>& looks, ThinFindings& out) const {
    if (out.sure && out.smear.sharp <= kDoubtedSmear) return;
    const EdgeSmear lines = sharpness_of_lines(looks, cutter, most_bands, executor);
    if (out.sure && (lines.sharp <= 0.0 || lines.sharp > kMuchSharper * out.smear.sharp)) return;
    out.smear = lines;
    out.sure = false;
  }
  enum class Rare : std::uint8_t { looked_for, left };
  [[nodiscard]] std::vector<Look> fitted(std::size_t most, Rare rare, ThinFindings& out) const {
    constexpr std::size_t kLeast = 8;
    std::vector<Look> looks = looks_of(found.cores, most, cutter, side, executor);
    if (looks.size() < kLeast) return {};
    ask_lines(looks, out);
    if (rare == Rare::looked_for) add_rare_looks(looks, found.cores, known, cutter, side, executor);
    fit_looks(looks, {out.smear.sharp, out.smear.excess}, SmearIs::known, cutter.lights(), most_bands,
              executor);
    return looks;
  }
};

/// A colour that a group of looks seems to show.
struct Candidate {
  ThinColour colour;
  LineColour line;  ///< as fitted to all of them
  Light ink{};
  std::vector<const Look*> shown;
  bool dots = false;
  double sure_width = 0.0;  ///< pixels: from there on it may be a colour though it looks like a mixture
};

DotSmear dot_smear(const Search& search) {
  constexpr double kShared = 1.0;  // what two pixels a sample add, by its variance
  const Sampling sampling = search.picture.sampling();
  const bool shared = sampling.across > 1 || sampling.down > 1;
  return {search.smear.sharp, shared ? std::hypot(search.smear.sharp, kShared) : search.smear.sharp};
}

/// Closes the looks that show it, but for those that show the `rival` rather: another heap of the same group.
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

/// True when many looks show a line, not a dot, and it fits well under a smear that edges told.
bool is_well_told(const Search& search, const Candidate& one) {
  constexpr std::size_t kLeastLooks = 48;
  constexpr double kGood = 0.006;  // root mean square of the misfit, of white
  return search.told && !one.dots && one.shown.size() >= kLeastLooks && one.colour.misfit <= kGood;
}

/// True when no narrower line of another colour fits its cuts as well, not even under a somewhat larger
/// smear, though it looks like a mixture.
bool is_own(const Search& search, const Candidate& one, const std::vector<ThinColour>& found) {
  constexpr std::size_t kCuts = 24;
  constexpr double kSame = 4.0;   // dE00
  constexpr double kNear = 10.0;  // Lab units from the way to the other colour
  constexpr double kWorse = 2.0;  // times the cost
  constexpr double kLargerSmear = 1.04;
  const ThinColour& colour = one.colour;
  if (!is_well_told(search, one)) return false;
  std::vector<const Cut*> cuts;
  for (std::size_t i = 0; i < one.shown.size(); i += 1 + one.shown.size() / kCuts)
    cuts.push_back(&one.shown[i]->cut);
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

/// True when it is as far from its ground as a known colour, but for what the smear leaves open in a line:
/// near black a hundredth of the light is several dE00.
bool is_as_strong(const Search& search, const Candidate& one) {
  constexpr double kOpen = 0.022;     // of the contrast
  constexpr double kSureWidth = 5.0;  // times the smear
  if (one.colour.ground == kNoLabel || one.dots || one.line.width > kSureWidth * search.smear.sharp)
    return false;
  const auto& lights = search.cutter.lights();
  const Light& ground = lights[one.colour.ground];
  return std::any_of(lights.begin(), lights.end(), [&](const Light& known) {
    double off = 0.0;
    double contrast = 0.0;
    for (std::size_t c = 0; c < 3; ++c) {
      off = std::max(off, std::abs(one.ink[c] - known[c]));
      contrast = std::max(contrast, std::abs(known[c] - ground[c]));
    }
    return off < kOpen * contrast;
  });
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

/// True when most of its looks show, before any fit, what no colours that are there could mix to.
bool is_vivid(const Candidate& one, std::vector<Lab> colours, const std::vector<ThinColour>& found) {
  for (const ThinColour& other : found) colours.push_back(other.lab);
  const Mixtures mixtures(colours);
  const auto unlike = std::count_if(one.shown.begin(), one.shown.end(), [&](const Look* look) {
    return is_unlike_all(lab_of(look->core.lab), mixtures);
  });
  return 2 * static_cast<std::size_t>(unlike) > one.shown.size();
}

/// True when it is no colour of its own. `most_looks`: of the colour that most show.
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
  // In a weave or pile cuts that fit no band agree on something by chance.
  if (search.grain >= kMostGrain && colour.misfit > kNoBand &&
      static_cast<double>(one.shown.size()) < kMostly * static_cast<double>(search.open_looks)) {
    return true;
  }
  const double area = static_cast<double>(search.cells.count());
  if (colour.cells < least * area &&
      (colour.cells < kLeastVivid * area || !is_vivid(one, search.known, found)))
    return true;
  if (!colour.pattern && !one.dots && colour.misfit > kUnlike) return true;
  // Relief is light and shade on the sheet around.
  const std::vector<Lab> sheets = around(search, one);
  if (same_as_known(colour.lab, search.known) || is_as_strong(search, one) ||
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

/// The small known colour that a line sure of its own is, where most of it lies in such lines: their cells
/// hardly ever show nothing else, and it was seen too near to what is around it.
std::optional<std::size_t> narrow_known(const Search& search, const Candidate& one) {
  constexpr double kNear = 7.0;          // dE00
  constexpr double kHardlyPlain = 0.25;  // of the line's cells, with large plain places
  constexpr double kTelling = 2.5;       // times the smear
  constexpr double kMostWidth = 3.0;     // cells
  const ThinColour& line = one.colour;
  if (!is_well_told(search, one) || line.width < kTelling * search.smear.sharp ||
      line.width > kMostWidth * search.cells.side) {
    return std::nullopt;
  }
  for (std::size_t i = 0; i < search.known.size(); ++i) {
    const double most = i < search.sure ? kHardlyPlain * line.cells : line.cells;
    if (search.known_cells[i] < most && ciede2000(search.known[i], line.lab) < kNear) return i;
  }
  return std::nullopt;
}

/// True when one of the colours found since there were `before` is the same.
bool is_double(const Candidate& one, const std::vector<ThinColour>& found, std::size_t before) {
  constexpr double kSame = 4.0;  // dE00
  return std::any_of(found.begin() + static_cast<std::ptrdiff_t>(before), found.end(),
                     [&](const ThinColour& other) { return ciede2000(other.lab, one.colour.lab) < kSame; });
}

/// Where a colour was seen, so that blocks can tell its hue.
void add_places(const Search& search, const Candidate& one, std::size_t number,
                std::vector<ThinPlace>& places) {
  const double sharp = search.smear.sharp;
  for (const Look* look : one.shown) {
    const bool sided = look->core.left != look->core.right;
    if (look->core.left != kNoLabel && (!sided || look->cut.width > kBroad * sharp))
      places.push_back(place_of(*look, search.cutter, number, sharp));
  }
}

}  // namespace

ThinFindings thin_colours(const LightRows& picture, const Cells& cells, const CellColours& labels,
                          const std::vector<Lab>& known, std::size_t sure, int grain,
                          const ThinFindings& earlier, const std::function<double(double, double)>& gain,
                          Executor& executor) {
  ThinFindings out;
  const Found found = look_everywhere(cells, labels, known, sure, executor);
  const Cutter cutter(picture, cells, known, gain);
  out.smear = earlier.smear.sharp > 0.0 ? earlier.smear : sharpness_of(found, cells, known, cutter, executor);
  out.sure = out.smear.sharp > 0.0;
  const double area = static_cast<double>(cells.count());
  // In a picture this small every edge is a good part of a motif, and no two bands can be trusted.
  constexpr double kDetailed = 20'000;  // cells
  const bool detailed = area >= kDetailed;
  // Threads of a weave or pile that lie side by side are one colour in light and shade.
  const int most_bands = !detailed ? 1 : grain >= kMostGrain ? 2 : 3;
  const double all_cores = static_cast<double>(found.cores.size()) * found.stands_for;
  if (all_cores < std::max(12.0, 0.0002 * area)) return out;
  const bool again = !earlier.colours.empty();
  const Looker looker{found, known, cutter, cells.side, most_bands, executor};
  std::vector<Look> looks = again ? looker.second(out) : looker.first(out);
  if (looks.empty()) return out;
  const double cores_a_look = all_cores / static_cast<double>(looks.size());
  const Smear smear{out.smear.sharp, out.smear.excess};
  const Search search{picture,
                      cells,
                      cutter,
                      known,
                      cells_of_labels(labels.sure, known.size(), executor),
                      sure,
                      grain,
                      detailed,
                      smear,
                      out.sure,
                      cores_a_look,
                      static_cast<std::size_t>(std::count_if(looks.begin(), looks.end(),
                                                             [](const Look& look) { return look.open; }))};
  const Agreement agreement(looks);
  const Grouping grouping(looks, agreement, executor);
  std::vector<ThinColour> found_so_far = earlier.colours;
  std::vector<Stroke> strokes;
  std::size_t most_looks = 0;
  for (int turn = 0; turn < 24; ++turn) {
    constexpr std::size_t kFew = 12;         // looks that may have come together by chance
    constexpr std::size_t kLeastAgain = 10;  // of a hundred: fewer are the first colours in crowded places
    const Group group = grouping.largest();
    if (group.looks.empty()) break;
    if (again && 100 * group.looks.size() < kLeastAgain * looks.size()) break;
    most_looks = std::max(most_looks, group.looks.size());
    const std::vector<Group> parts = parted(group);
    const std::vector<ThinColour> before = found_so_far;
    for (std::size_t k = 0; k < parts.size(); ++k) {
      const Group* const rival = parts.size() > 1 ? &parts[1 - k] : nullptr;
      const Candidate one = candidate_of(search, parts[k], rival, agreement, looks, executor);
      if (const auto known_one = narrow_known(search, one)) {
        const bool first = std::none_of(out.corrected.begin(), out.corrected.end(),
                                        [&](const Corrected& c) { return c.number == *known_one; });
        if (first) out.corrected.push_back({*known_one, one.colour.lab});
        found_so_far.push_back(one.colour);
        continue;
      }
      // Two heaps are two colours, though one lies on the way to the other.
      if (is_explained(search, one, before, most_looks)) continue;
      if (k > 0 && is_double(one, found_so_far, before.size())) continue;
      if (one.shown.size() < kFew && !is_vivid(one, known, found_so_far) &&
          !is_confirmed({one.shown, one.line.light, parts[k].light, most_bands}, found.cores, agreement,
                        search.smear, cutter, cells.side, executor)) {
        continue;
      }
      add_places(search, one, known.size() + out.colours.size(), out.places);
      found_so_far.push_back(one.colour);
      out.colours.push_back(one.colour);
      strokes.push_back({one.ink, one.dots ? kNoLabel : one.colour.ground, one.colour.width, one.shown.size(),
                         cuts_of(parts[k])});
    }
  }
  deepen(picture, cutter, found.cores, strokes, executor, out);
  leave_out_crowded(picture, cutter, found.cores, out.colours, known.size(), out.places);
  return out;
}

}  // namespace kithue::extract
