// SPDX-License-Identifier: MIT
#include "extract/seek.h"

#include <algorithm>
#include <cmath>

#include "extract/mixture.h"

namespace kithue::extract {
namespace {

constexpr int kSeekReach = 9;        // cells to look for a known colour on each side
constexpr double kStandsOut = 6.0;   // Lab units from what the two sides could mix to
constexpr double kDoubtPart = 0.08;  // and this part of the sides' own distance
constexpr double kEdgePart = 0.3;    // as much is beyond doubt: coding smears colour at edges
constexpr double kBroadPart = 2.0;   // sides nearer to each other than so often kStandsOut hide no band
constexpr double kEdgeLightness = 12.0;
constexpr int kSharpSpan = 5;  // cells from side to side
constexpr int kLong = 8;       // cells: something else may lie on a way this long
constexpr double kMuchShorter = 1.6;
constexpr int kNever = 99;

/// Looks along rows and columns of labels.
class Seeker {
 public:
  Seeker(const Cells& cells, const CellColours& labels, const Mixtures& mixtures,
         const std::vector<Lab>& known, std::size_t sure)
      : cells_(cells),
        labels_(labels.sure),
        near_(labels.nearest),
        mixtures_(mixtures),
        known_(known),
        sure_(sure) {}

  void look_at(int x, int y, Found& found) const {
    const auto plain = [&](int dx, int dy) { return seek(x, y, dx, dy); };
    const Way way = shorter_way(plain);
    // Between lines in close groups nothing is flat: there cells near to a known colour have to do.
    if (way.span() > kLong) {
      const auto dip = [&](int dx, int dy) { return seek_dip(x, y, dx, dy); };
      const Way nearer = shorter_way(dip);
      if (nearer.found() && kMuchShorter * nearer.span() <= way.span()) {
        add_core(x, y, nearer, found);
        return;
      }
    }
    if (!way.found()) return;
    if (way.first.label != way.second.label) add_edge(x, y, way, found);
    add_core(x, y, way, found);
  }

 private:
  struct Side {
    std::uint8_t label = kNoLabel;
    int steps = 99;
    [[nodiscard]] bool found() const { return label != kNoLabel; }
  };
  /// The shorter way through a cell from one known colour to another, or to the same.
  struct Way {
    Side first;
    Side second;
    bool across_x = true;
    [[nodiscard]] bool found() const { return first.found() && second.found(); }
    [[nodiscard]] int span() const { return found() ? first.steps + second.steps : kNever; }
  };
  template <typename Look>
  [[nodiscard]] static Way shorter_way(Look look) {
    const Way level{look(-1, 0), look(1, 0), true};
    const Way upright{look(0, -1), look(0, 1), false};
    return level.span() <= upright.span() ? level : upright;
  }
  [[nodiscard]] bool is_sure(const Way& way) const {
    return way.first.label < sure_ && way.second.label < sure_;
  }
  void add_edge(int x, int y, const Way& way, Found& found) const {
    const auto& [first, second, across_x] = way;
    if (std::abs(known_[first.label].L - known_[second.label].L) <= kEdgeLightness) return;
    const bool middle = std::abs(first.steps - second.steps) <= 1;
    const Edge edge{x,
                    y,
                    first.label,
                    second.label,
                    static_cast<std::uint8_t>(first.steps),
                    static_cast<std::uint8_t>(second.steps),
                    across_x,
                    is_sure(way)};
    if (way.span() <= kSharpSpan)
      found.edges.push_back(edge);
    else if (edge.sure && middle)
      found.soft_edges.push_back(edge);
  }
  void add_core(int x, int y, const Way& way, Found& found) const {
    const auto& [first, second, across_x] = way;
    const double apart = lab_distance(known_[first.label], known_[second.label]);
    bool doubtful = way.span() > kSharpSpan && is_sure(way) && apart > kBroadPart * kStandsOut &&
                    (first.steps == second.steps || first.steps == second.steps + 1);
    if (!doubtful) {
      const int dx = across_x ? 1 : 0;
      const int dy = across_x ? 0 : 1;
      const double here = stands_out(x, y, first.label, second.label);
      if (here < kStandsOut + kDoubtPart * apart ||
          here < stands_out(x - dx, y - dy, first.label, second.label) ||
          here <= stands_out(x + dx, y + dy, first.label, second.label)) {
        return;
      }
      doubtful = here < kStandsOut + kEdgePart * apart;
    }
    found.cores.push_back({x, y, first.label, second.label, static_cast<std::uint8_t>(first.steps),
                           static_cast<std::uint8_t>(second.steps), across_x, cells_.row(y)[x], doubtful});
  }
  /// How many cells there are to look at on a way.
  [[nodiscard]] int reach(int x, int y, int dx, int dy) const {
    const int left = dx < 0 ? x : dx > 0 ? cells_.width - 1 - x : kSeekReach;
    const int up = dy < 0 ? y - cells_.run_top(y) : dy > 0 ? cells_.run_end(y) - 1 - y : kSeekReach;
    return std::min({kSeekReach, left, up});
  }
  [[nodiscard]] Side seek(int x, int y, int dx, int dy) const {
    const int most = reach(x, y, dx, dy);
    for (int step = 1; step <= most; ++step) {
      const std::uint8_t label = labels_[cells_.at(x + step * dx, y + step * dy)];
      if (label != kNoLabel) return {label, step};
    }
    return {};
  }
  /// The first place that comes near to a known colour and then no nearer.
  [[nodiscard]] Side seek_dip(int x, int y, int dx, int dy) const {
    constexpr double kNear = 3.0;  // Lab units, and this part of the distance of the cell looked at
    constexpr double kNearPart = 0.1;
    const Lab here = lab_of(cells_.row(y)[x]);
    Side best;
    double best_gap = 0.0;
    const int most = reach(x, y, dx, dy);
    for (int step = 1; step <= most; ++step) {
      const std::uint8_t label = near_[cells_.at(x + step * dx, y + step * dy)];
      if (best.found() && label != best.label) break;
      if (label == kNoLabel) continue;
      const double gap = lab_distance(lab_of(cells_.row(y + step * dy)[x + step * dx]), known_[label]);
      if (best.found() && gap >= best_gap) break;
      if (!best.found() && gap > kNear + kNearPart * lab_distance(here, known_[label])) continue;
      best = {label, step};
      best_gap = gap;
    }
    return best;
  }
  [[nodiscard]] double stands_out(int x, int y, std::uint8_t i, std::uint8_t j) const {
    if (x < 0 || y < 0 || x >= cells_.width || y >= cells_.height) return 0.0;
    return mixtures_.miss(lab_of(cells_.row(y)[x]), i, j);
  }

  const Cells& cells_;
  const std::vector<std::uint8_t>& labels_;
  const std::vector<std::uint8_t>& near_;
  const Mixtures& mixtures_;
  const std::vector<Lab>& known_;
  std::size_t sure_;
};

}  // namespace

Found look_everywhere(const Cells& cells, const CellColours& labels, const std::vector<Lab>& known,
                      std::size_t sure, Executor& executor) {
  const Mixtures mixtures(known);
  // Of many cells a part is looked at, as if by lot, so that no line falls in with those left out.
  constexpr std::size_t kMany = 400'000;
  const std::size_t open = count_labels(labels.sure, executor)[kNoLabel];
  Found all;
  while (all.stands_for < 16 && open > kMany * static_cast<std::size_t>(all.stands_for)) all.stands_for *= 2;
  const auto skip = static_cast<std::uint32_t>(all.stands_for - 1);
  std::vector<Found> parts(bands(cells.height));
  const Seeker seeker(cells, labels, mixtures, known, sure);
  executor.run(parts.size(), [&](std::size_t band) {
    const int first = static_cast<int>(band) * kBand;
    for (int y = first; y < std::min(first + kBand, cells.height); ++y) {
      const std::uint8_t* row =
          labels.sure.data() + static_cast<std::size_t>(y) * static_cast<std::size_t>(cells.width);
      for (int x = 0; x < cells.width; ++x) {
        if (row[x] != kNoLabel) continue;
        if ((lot_of(x, y) & skip) != 0) continue;
        seeker.look_at(x, y, parts[band]);
      }
    }
  });
  for (const Found& part : parts) {
    all.cores.insert(all.cores.end(), part.cores.begin(), part.cores.end());
    all.edges.insert(all.edges.end(), part.edges.begin(), part.edges.end());
    all.soft_edges.insert(all.soft_edges.end(), part.soft_edges.begin(), part.soft_edges.end());
  }
  return all;
}

}  // namespace kithue::extract
