// SPDX-License-Identifier: MIT
#include "extract/narrow.h"

#include <algorithm>
#include <array>

#include "extract/mixture.h"

namespace kithue::extract {
namespace {

constexpr int kReach = 16;  // cells each way

/// True where a large colour shows rather than the small one `own`: between two strokes side by side no cell
/// may be flat enough for a label.
bool shows_large(const Lab& lab, const FlatColours& flats, std::size_t own) {
  constexpr double kNearer = 2.0;  // times
  const double off = lab_distance(lab, flats.colours[own]);
  return std::any_of(flats.colours.begin(), flats.colours.begin() + static_cast<std::ptrdiff_t>(flats.sure),
                     [&](const Lab& large) { return kNearer * lab_distance(lab, large) < off; });
}

/// How many cells in a row, along a line through this one, are of no large colour.
int run_through(const Cells& cells, const std::vector<std::uint8_t>& labels, const FlatColours& flats, int x,
                int y, int dx, int dy) {
  const std::size_t own = labels[cells.at(x, y)];
  const int top = cells.run_top(y);
  const int end = cells.run_end(y);
  int run = 1;
  for (const int way : {1, -1}) {
    for (int step = 1; step <= kReach; ++step) {
      const int px = x + way * step * dx;
      const int py = y + way * step * dy;
      if (px < 0 || py < top || px >= cells.width || py >= end) break;
      const std::uint8_t label = labels[cells.at(px, py)];
      if (label != kNoLabel ? label < flats.sure : shows_large(lab_of(cells.row(py)[px]), flats, own)) break;
      ++run;
    }
  }
  return run;
}

}  // namespace

std::vector<std::size_t> narrow_colours(const FlatColours& flats, const Cells& cells,
                                        const std::vector<std::uint8_t>& labels) {
  constexpr int kLooked = 2000;     // cells of each colour
  constexpr double kNarrow = 4.2;   // cells across, the smear on both sides among them
  constexpr double kLongish = 2.2;  // times as long as wide
  constexpr double kMostly = 0.85;
  struct Count {
    int looked = 0;
    int strokes = 0;
    int across = 0;
  };
  std::vector<std::size_t> narrow;
  const std::size_t n = flats.colours.size();
  if (flats.sure == n) return narrow;
  std::vector<Count> counts(n);
  for (int y = 0; y < cells.height; y += 3) {
    const std::uint8_t* row = labels.data() + cells.at(0, y);
    for (int x = 0; x < cells.width; ++x) {
      if (row[x] == kNoLabel || row[x] < flats.sure || counts[row[x]].looked >= kLooked) continue;
      std::array<int, 4> runs{};
      constexpr std::array<std::array<int, 2>, 4> kWays{{{1, 0}, {0, 1}, {1, 1}, {1, -1}}};
      for (std::size_t i = 0; i < runs.size(); ++i)
        runs[i] = run_through(cells, labels, flats, x, y, kWays[i][0], kWays[i][1]);
      const auto [least, most] = std::minmax_element(runs.begin(), runs.end());
      Count& count = counts[row[x]];
      ++count.looked;
      count.strokes += *most >= kLongish * *least ? 1 : 0;
      count.across += *least;
    }
  }
  for (std::size_t i = flats.sure; i < n; ++i) {
    const Count& count = counts[i];
    if (count.across < kNarrow * count.looked && count.strokes > kMostly * count.looked) narrow.push_back(i);
  }
  // With the ground alone left no edge would tell how sharp the picture is.
  if (n < narrow.size() + 2) narrow.clear();
  return narrow;
}

bool shines_through(const Lab& lab, const std::vector<Lab>& colours, std::size_t sure,
                    const std::vector<Lab>& inks) {
  constexpr double kNear = 6.0;  // Lab units
  const auto half_way = [](const Lab& ground, const Lab& ink) {
    const MixtureChain chain = mixture_chain(ground, ink);
    return chain[chain.size() / 2];
  };
  return std::any_of(inks.begin(), inks.end(), [&](const Lab& ink) {
    return std::any_of(colours.begin(), colours.begin() + static_cast<std::ptrdiff_t>(sure),
                       [&](const Lab& ground) {
                         return distance_to(lab, mixture_chain(half_way(ground, ink), ink)) < kNear;
                       });
  });
}

}  // namespace kithue::extract
