// SPDX-License-Identifier: MIT
#include "extract/bands_between.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <cstddef>
#include <optional>

#include "colour/difference.h"
#include "extract/flat.h"
#include "extract/looks.h"

namespace kithue::extract {
namespace {

constexpr std::size_t kMostCuts = 48;  // of each colour

/// Cells of one label in a row.
struct Run {
  std::uint8_t label = kNoLabel;
  int first = 0;
  int last = 0;
  [[nodiscard]] int length() const { return last - first + 1; }
};

/// What was seen of one colour along one way.
struct Bands {
  std::size_t cells = 0;
  std::size_t narrow_cells = 0;
  std::vector<Core> cores;
};

/// Adds the runs of one row (`across_x`) or column.
class Scan {
 public:
  Scan(const Cells& cells, const std::vector<std::uint8_t>& labels, std::size_t plain, bool across_x)
      : cells_(cells), labels_(labels), plain_(plain), across_x_(across_x) {}

  void add(int place, int from, int end, std::vector<Bands>& bands) {
    runs_.clear();
    for (int i = from; i < end; ++i) {
      const std::uint8_t label = across_x_ ? labels_[cells_.at(i, place)] : labels_[cells_.at(place, i)];
      if (label == kNoLabel) continue;
      if (!runs_.empty() && runs_.back().label == label && runs_.back().last >= i - kGap) {
        runs_.back().last = i;
      } else {
        runs_.push_back({label, i, i});
      }
    }
    for (std::size_t k = 0; k < runs_.size(); ++k) {
      const Run& run = runs_[k];
      if (run.label >= plain_) continue;
      Bands& of = bands[run.label];
      of.cells += static_cast<std::size_t>(run.length());
      if (k == 0 || k + 1 == runs_.size() || run.length() > kNarrow) continue;
      const Run& before = runs_[k - 1];
      const Run& after = runs_[k + 1];
      of.narrow_cells += static_cast<std::size_t>(run.length());
      if (is_side(before, run.first - before.last) && is_side(after, after.first - run.last))
        of.cores.push_back(core_of(before, run, after, place));
    }
  }

 private:
  static constexpr int kGap = 1;
  static constexpr int kNarrow = 5;
  static constexpr int kFar = 5;
  static constexpr int kLeastSide = 2;
  [[nodiscard]] bool is_side(const Run& run, int off) const {
    return run.label < plain_ && run.length() >= kLeastSide && off <= kFar;
  }
  [[nodiscard]] Core core_of(const Run& before, const Run& run, const Run& after, int place) const {
    const int middle = (run.first + run.last) / 2;
    Core core;
    core.x = across_x_ ? middle : place;
    core.y = across_x_ ? place : middle;
    core.left = before.label;
    core.right = after.label;
    core.before = static_cast<std::uint8_t>(middle - before.last + 1);
    core.after = static_cast<std::uint8_t>(after.first - middle + 1);
    core.across_x = across_x_;
    return core;
  }

  const Cells& cells_;
  const std::vector<std::uint8_t>& labels_;
  std::size_t plain_;
  bool across_x_;
  std::vector<Run> runs_;
};

std::vector<Bands> bands_of(const Cells& cells, const std::vector<std::uint8_t>& labels, std::size_t plain,
                            bool across_x) {
  constexpr int kWays = 160;
  std::vector<Bands> bands(plain);
  Scan scan(cells, labels, plain, across_x);
  const int places = across_x ? cells.height : cells.width;
  for (int place = 0; place < places; place += std::max(1, places / kWays)) {
    if (across_x) {
      scan.add(place, 0, cells.width, bands);
      continue;
    }
    for (int top = 0; top < cells.height; top = cells.run_end(top))
      scan.add(place, top, cells.run_end(top), bands);
  }
  return bands;
}

/// The colour that the bands show together.
struct BandsLight {
  Light light;
  bool most;  ///< of the bands tell it
};

/// Nothing where the bands do not tell.
std::optional<BandsLight> light_of_bands(std::vector<Look> looks, const Light& known, const Smear& smear,
                                         Executor& executor) {
  constexpr std::size_t kLeast = 16;
  constexpr double kGood = 0.008;     // root mean square of the misfit, of white
  constexpr double kTelling = 2.5;    // times the smear
  constexpr double kAsBright = 0.03;  // of white, coded
  const double brightness = coded_of(known)[0];
  executor.run(looks.size(), [&](std::size_t i) { looks[i].own = fit_cut(looks[i].cut, smear); });
  std::vector<Cut*> cuts;
  for (Look& look : looks) {
    if (look.own.found && look.own.cost < kGood * kGood * look.own.weight &&
        look.cut.width > kTelling * smear.sharp &&
        std::abs(coded_of(look.own.light)[0] - brightness) < kAsBright)
      cuts.push_back(&look.cut);
  }
  if (cuts.size() < kLeast || 3 * cuts.size() < looks.size()) return std::nullopt;
  const LineColour line = fit_together(cuts, smear, known, executor);
  if (line.misfit > kGood) return std::nullopt;
  return BandsLight{line.light, 2 * cuts.size() >= looks.size()};
}

}  // namespace

std::vector<bool> refine_narrow_bands(const LightRows& picture, const Cells& cells,
                                      const std::vector<std::uint8_t>& labels, std::size_t plain,
                                      const EdgeSmear& smear, std::vector<Lab>& colours,
                                      const std::function<double(double, double)>& gain, Executor& executor) {
  constexpr double kMostly = 0.6;  // of the cells
  constexpr double kMost = 6.0;    // dE00
  constexpr double kClear = 2.0;   // dE00: from there on a third of the bands will do
  const Sampling sampling = picture.sampling();
  std::vector<bool> told(colours.size(), false);
  if (smear.sharp <= 0.0 || (sampling.across == 1 && sampling.down == 1)) return told;
  std::array<std::vector<Bands>, 2> ways;
  executor.run(2, [&](std::size_t way) { ways[way] = bands_of(cells, labels, plain, way == 0); });
  const Cutter cutter(picture, cells, colours, gain);
  for (std::size_t i = 0; i < plain; ++i) {
    std::vector<Core> cores;
    for (const auto& way : ways) {
      const Bands& bands = way[i];
      if (static_cast<double>(bands.narrow_cells) > kMostly * static_cast<double>(bands.cells))
        cores.insert(cores.end(), bands.cores.begin(), bands.cores.end());
    }
    const auto bands = light_of_bands(looks_of(cores, kMostCuts, cutter, cells.side, executor),
                                      cutter.lights()[i], {smear.sharp, smear.excess}, executor);
    if (!bands) continue;
    const Lab lab = lab_from_light(bands->light, picture.to_xyz());
    const double off = ciede2000(lab, colours[i]);
    told[i] = off < kMost && (bands->most || off > kClear);
    if (told[i]) colours[i] = {colours[i].L, lab.a, lab.b};
  }
  return told;
}

}  // namespace kithue::extract
