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

/// Looks along rows and columns of labels.
class Seeker {
 public:
  Seeker(const Cells& cells, const std::vector<std::uint8_t>& labels, const Mixtures& mixtures,
         const std::vector<Lab>& known, std::size_t sure)
      : cells_(cells), labels_(labels), mixtures_(mixtures), known_(known), sure_(sure) {}

  void look_at(int x, int y, Found& found) const {
    const Side left = seek(x, y, -1, 0);
    const Side right = seek(x, y, 1, 0);
    const Side up = seek(x, y, 0, -1);
    const Side down = seek(x, y, 0, 1);
    const int level = left.found() && right.found() ? left.steps + right.steps : 99;
    const int upright = up.found() && down.found() ? up.steps + down.steps : 99;
    if (std::min(level, upright) > 2 * kSeekReach) return;
    const Way way = level <= upright ? Way{left, right, true} : Way{up, down, false};
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
    [[nodiscard]] int span() const { return first.steps + second.steps; }
  };
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
  [[nodiscard]] Side seek(int x, int y, int dx, int dy) const {
    const int top = cells_.run_top(y);
    const int end = cells_.run_end(y);
    for (int step = 1; step <= kSeekReach; ++step) {
      x += dx;
      y += dy;
      if (x < 0 || y < top || x >= cells_.width || y >= end) break;
      const std::uint8_t label =
          labels_[static_cast<std::size_t>(y) * static_cast<std::size_t>(cells_.width) +
                  static_cast<std::size_t>(x)];
      if (label != kNoLabel) return {label, step};
    }
    return {};
  }
  [[nodiscard]] double stands_out(int x, int y, std::uint8_t i, std::uint8_t j) const {
    if (x < 0 || y < 0 || x >= cells_.width || y >= cells_.height) return 0.0;
    return mixtures_.miss(lab_of(cells_.row(y)[x]), i, j);
  }

  const Cells& cells_;
  const std::vector<std::uint8_t>& labels_;
  const Mixtures& mixtures_;
  const std::vector<Lab>& known_;
  std::size_t sure_;
};

}  // namespace

Found look_everywhere(const Cells& cells, const std::vector<std::uint8_t>& labels,
                      const std::vector<Lab>& known, std::size_t sure, Executor& executor) {
  const Mixtures mixtures(known);
  // Of many cells a part is looked at, as if by lot, so that no line falls in with those left out.
  constexpr std::size_t kMany = 400'000;
  const auto open = static_cast<std::size_t>(std::count(labels.begin(), labels.end(), kNoLabel));
  Found all;
  while (all.stands_for < 16 && open > kMany * static_cast<std::size_t>(all.stands_for)) all.stands_for *= 2;
  const auto skip = static_cast<std::uint32_t>(all.stands_for - 1);
  std::vector<Found> parts(bands(cells.height));
  const Seeker seeker(cells, labels, mixtures, known, sure);
  executor.run(parts.size(), [&](std::size_t band) {
    const int first = static_cast<int>(band) * kBand;
    for (int y = first; y < std::min(first + kBand, cells.height); ++y) {
      const std::uint8_t* row =
          labels.data() + static_cast<std::size_t>(y) * static_cast<std::size_t>(cells.width);
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
