// SPDX-License-Identifier: MIT
#include "extract/thin.h"

#include <algorithm>
#include <cmath>
#include <map>
#include <optional>
#include <unordered_map>
#include <utility>

#include "colour/difference.h"
#include "extract/candidate.h"
#include "extract/crossings.h"
#include "extract/explained.h"
#include "extract/fit_looks.h"
#include "extract/grid_smear.h"
#include "extract/picture_smear.h"
#include "extract/rare_looks.h"
#include "extract/ray.h"
#include "extract/two_inks.h"

namespace kithue::extract {
namespace {

/// How many cells bear each colour's label.
std::vector<double> cells_of_labels(const std::vector<std::uint8_t>& labels, std::size_t colours,
                                    Executor& executor) {
  const auto count = count_labels(labels, executor);
  return {count.begin(), count.begin() + static_cast<std::ptrdiff_t>(colours)};
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

/// Sets the smear right by what crossings of narrow strokes say, and fits the strokes again under it.
void deepen(const LightRows& picture, const Cutter& cutter, const std::vector<Core>& cores,
            const std::vector<Stroke>& strokes, Executor& executor, ThinFindings& out) {
  constexpr double kLeastChange = 0.002;
  const std::vector<Depth> depths = depths_of(picture, cutter, cores, strokes, out.smear.sharp, executor);
  const SmearFromDepth smear(strokes, depths, out.smear.sharp, out.sure);
  EdgeSmear deeper = out.smear;
  deeper.sharp = smear.sharp();
  if (std::abs(deeper.sharp - out.smear.sharp) < kLeastChange * out.smear.sharp) return;
  std::vector<Light> lights(strokes.size());
  for (std::size_t i = 0; i < strokes.size(); ++i)
    lights[i] = fit_together(strokes[i].cuts, known_smear(deeper), strokes[i].ink, executor).light;
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
  out.smear = deeper;
}

/// Looks at some of the cores. Gives none where there are too few, and tells the smear where edges did not.
struct Looker {
  const Found& found;
  const std::vector<Lab>& known;
  const Cutter& cutter;
  int side;
  int most_bands;
  const EdgeSmears& edges;  ///< what they tell, where `out` has it of them
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
  /// Whether the smear acted on the grid, as lines and edges together say.
  void ask_grid(const std::vector<Look>& looks, ThinFindings& out) const {
    EdgeSmear grid = out.sure ? edges.grid : out.smear;
    grid.on_grid = true;
    const Better lines = grid_better_for_lines(looks, out.smear, grid, executor);
    if (is_on_grid(grid, out.sure ? edges.grid_better : Better{}, lines)) out.smear = grid;
  }
  enum class Rare : std::uint8_t { looked_for, left };
  [[nodiscard]] std::vector<Look> fitted(std::size_t most, Rare rare, ThinFindings& out) const {
    constexpr std::size_t kLeast = 8;
    std::vector<Look> looks = looks_of(found.cores, most, cutter, side, executor);
    if (looks.size() < kLeast) return {};
    ask_lines(looks, out);
    if (rare == Rare::looked_for) {
      ask_grid(looks, out);
      add_rare_looks(looks, found.cores, known, cutter, side, executor);
    }
    fit_looks(looks, known_smear(out.smear), SmearIs::known, cutter.lights(), most_bands, executor);
    return looks;
  }
};

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

/// Takes the colours that groups of looks show, one group after the other.
class Gatherer {
 public:
  Gatherer(const Search& search, const std::vector<Core>& cores, const Agreement& agreement,
           std::vector<Look>& looks, const ThinFindings& earlier, ThinFindings& out, Executor& executor)
      : search_(search),
        cores_(cores),
        agreement_(agreement),
        looks_(looks),
        out_(out),
        executor_(executor),
        found_(earlier.colours) {}

  void take(const Group& group) {
    most_looks_ = std::max(most_looks_, group.looks.size());
    const std::vector<Group> parts = parted(group);
    const std::vector<ThinColour> before = found_;
    for (std::size_t k = 0; k < parts.size(); ++k) {
      const Group* const rival = parts.size() > 1 ? &parts[1 - k] : nullptr;
      const Candidate one = candidate_of(search_, parts[k], rival, agreement_, looks_, executor_);
      if (const auto known_one = narrow_known(search_, one)) {
        correct(*known_one, one.colour);
        continue;
      }
      // Two heaps are two colours, though one lies on the way to the other.
      if (is_explained(search_, one, before, most_looks_)) continue;
      if (k > 0 && is_double(one, found_, before.size())) continue;
      if (is_sure(one, parts[k].light)) add(one, parts[k]);
    }
  }
  /// Of the colours that were taken, in their order.
  [[nodiscard]] const std::vector<Stroke>& strokes() const { return strokes_; }

 private:
  void correct(std::size_t number, const ThinColour& line) {
    const bool first = std::none_of(out_.corrected.begin(), out_.corrected.end(),
                                    [number](const Corrected& c) { return c.number == number; });
    if (first) out_.corrected.push_back({number, line.lab});
    found_.push_back(line);
  }

  [[nodiscard]] bool is_sure(const Candidate& one, const Light& mean) const {
    constexpr std::size_t kFew = 12;  // looks that may have come together by chance
    return one.shown.size() >= kFew || is_vivid(one, search_.known, found_) ||
           is_confirmed({one.shown, one.line.light, mean, search_.most_bands}, cores_, agreement_,
                        search_.smear, search_.cutter, search_.cells.side, executor_);
  }

  void add(const Candidate& one, const Group& group) {
    add_places(search_, one, search_.known.size() + out_.colours.size(), out_.places);
    found_.push_back(one.colour);
    out_.colours.push_back(one.colour);
    strokes_.push_back({one.ink, one.dots ? kNoLabel : one.colour.ground, one.colour.width, one.shown.size(),
                        cuts_of(group)});
  }

  const Search& search_;
  const std::vector<Core>& cores_;
  const Agreement& agreement_;
  std::vector<Look>& looks_;
  ThinFindings& out_;
  Executor& executor_;
  std::vector<ThinColour> found_;  ///< earlier ones too
  std::vector<Stroke> strokes_;
  std::size_t most_looks_ = 0;
};

/// Threads of a weave or pile that lie side by side are one colour in light and shade.
int most_bands_of(int grain, bool detailed) {
  return !detailed ? 1 : grain >= kMostGrain ? 2 : 3;
}

}  // namespace

ThinFindings thin_colours(const LightRows& picture, const Cells& cells, const CellColours& labels,
                          const std::vector<Lab>& known, std::size_t sure, int grain,
                          const ThinFindings& earlier, const std::function<double(double, double)>& gain,
                          Executor& executor) {
  // In a picture this small every edge is a good part of a motif, and no two bands can be trusted.
  constexpr double kDetailed = 20'000;  // cells
  constexpr double kLeastCores = 12.0;
  constexpr double kLeastPart = 0.0002;    // of the cells
  constexpr std::size_t kLeastAgain = 10;  // of a hundred: fewer are the first colours in crowded places
  constexpr int kMostGroups = 24;
  ThinFindings out;
  const Found found = look_everywhere(cells, labels, known, sure, executor);
  const Cutter cutter(picture, cells, known, gain);
  const EdgeSmears edges = earlier.smear.sharp > 0.0 ? EdgeSmears{earlier.smear, earlier.smear, {}}
                                                     : picture_smear(found, cells, known, cutter, executor);
  out.smear = edges.lens;
  out.sure = out.smear.sharp > 0.0;
  const double area = static_cast<double>(cells.count());
  const bool detailed = area >= kDetailed;
  const int most_bands = most_bands_of(grain, detailed);
  const double all_cores = static_cast<double>(found.cores.size()) * found.stands_for;
  if (all_cores < std::max(kLeastCores, kLeastPart * area)) return out;
  const bool again = !earlier.colours.empty();
  const Looker looker{found, known, cutter, cells.side, most_bands, edges, executor};
  std::vector<Look> looks = again ? looker.second(out) : looker.first(out);
  if (looks.empty()) return out;
  const Search search{picture,
                      cells,
                      cutter,
                      known,
                      cells_of_labels(labels.sure, known.size(), executor),
                      sure,
                      grain,
                      detailed,
                      most_bands,
                      known_smear(out.smear),
                      out.sure,
                      all_cores / static_cast<double>(looks.size()),
                      static_cast<std::size_t>(std::count_if(looks.begin(), looks.end(),
                                                             [](const Look& look) { return look.open; }))};
  const Agreement agreement(looks);
  const Grouping grouping(looks, agreement, executor);
  Gatherer gatherer(search, found.cores, agreement, looks, earlier, out, executor);
  for (int turn = 0; turn < kMostGroups; ++turn) {
    const Group group = grouping.largest();
    if (group.looks.empty()) break;
    if (again && 100 * group.looks.size() < kLeastAgain * looks.size()) break;
    gatherer.take(group);
  }
  deepen(picture, cutter, found.cores, gatherer.strokes(), executor, out);
  leave_out_crowded(picture, cutter, found.cores, out.colours, known.size(), out.places);
  return out;
}

}  // namespace kithue::extract
