// SPDX-License-Identifier: MIT
#include "extract/slopes.h"

#include <algorithm>
#include <array>
#include <utility>

#include "extract/mixture.h"

namespace kithue::extract {
namespace {

constexpr int kFarOnSlope = 6;  // cells

/// True when the picture goes on changing one way from far on one side of a cell to far on the other, at an
/// even pace or without an edge.
bool is_on_slope(const Cells& cells, const FlatTest& flat, int least, int x, int y, int across, int down) {
  constexpr int kPieces = 6;
  constexpr double kMiddle = 0.15;  // of the way, in the third of it that is nearest
  constexpr double kLeastPiece = 0.06;
  constexpr double kMostPiece = 0.33;
  using Way = std::array<double, 3>;
  const auto seen = [&](int far) {
    const CellLab cell = cells.row(y + far * down)[x + far * across];
    return Way{1.0 * cell.L, 0.5 * cell.a, 0.5 * cell.b};  // as gap2 counts them
  };
  const Way from = seen(-kFarOnSlope);
  const Way to = seen(kFarOnSlope);
  const Way all{to[0] - from[0], to[1] - from[1], to[2] - from[2]};
  const double all2 = all[0] * all[0] + all[1] * all[1] + all[2] * all[2];
  if (all2 < static_cast<double>(least) * least) return false;
  const auto part = [&](int first, int last) {
    const Way p = seen(first);
    const Way q = seen(last);
    return (all[0] * (q[0] - p[0]) + all[1] * (q[1] - p[1]) + all[2] * (q[2] - p[2])) / all2;
  };
  constexpr int kPiece = 2 * kFarOnSlope / kPieces;
  if (part(-kPiece, kPiece) < kMiddle) return false;
  bool no_edge = true;
  for (int far = -kFarOnSlope; far <= kFarOnSlope && no_edge; ++far)
    no_edge = flat.tier(x + far * across, y + far * down) != kNotFlat;
  if (no_edge) return true;
  for (int far = -kFarOnSlope; far < kFarOnSlope; far += kPiece) {
    const double piece = part(far, far + kPiece);
    if (piece < kLeastPiece || piece > kMostPiece) return false;
  }
  return true;
}

/// Of a colour's flat cells that were looked at.
struct Slopes {
  double cells = 0.0;
  double on_slope = 0.0;  ///< a long one
};

std::vector<Slopes> slopes_of(std::size_t colours, const Cells& cells, const FlatTest& flat, int grain,
                              const std::vector<std::uint8_t>& labels) {
  constexpr int kLeast = 3 * kSteps;
  constexpr int kGrains = 3;
  constexpr int kEveryRow = 4;
  constexpr int kEveryCell = 5;
  const int least = std::max(kLeast, kGrains * grain);
  std::vector<Slopes> out(colours);
  for (int y = kFarOnSlope; y + kFarOnSlope < cells.height; ++y) {
    if (y - kFarOnSlope < cells.run_top(y) || y + kFarOnSlope >= cells.run_end(y)) continue;
    if (cells.every == 1 && y % kEveryRow != 0) continue;  // of a run no more are left
    const std::uint8_t* label = labels.data() + cells.at(0, y);
    const std::uint8_t* tier = flat.row(y);
    for (int x = kFarOnSlope + y % kEveryCell; x + kFarOnSlope < cells.width; x += kEveryCell) {
      const std::uint8_t i = label[x];
      if (i == kNoLabel || tier[x] == kNotFlat) continue;
      out[i].cells += 1.0;
      if (is_on_slope(cells, flat, least, x, y, 1, 0) || is_on_slope(cells, flat, least, x, y, 0, 1))
        out[i].on_slope += 1.0;
    }
  }
  return out;
}

}  // namespace

bool drop_gradients(FlatColours& flats, const Cells& cells, const FlatTest& flat, int grain,
                    const std::vector<std::uint8_t>& labels) {
  constexpr double kMostly = 0.55;
  constexpr double kNear = 8.0;  // Lab units: paints do not run into one another quite as light mixes
  constexpr double kLess = 0.5;  // of the cells of the larger one
  const std::vector<Lab>& colours = flats.colours;
  const std::vector<Slopes> slopes = slopes_of(colours.size(), cells, flat, grain, labels);
  const auto sloping = [&](std::size_t i) { return slopes[i].on_slope > kMostly * slopes[i].cells; };
  const auto is_between = [&](std::size_t i, std::size_t j, std::size_t k) {
    return !sloping(j) && !sloping(k) &&
           slopes[i].cells < kLess * std::max(slopes[j].cells, slopes[k].cells) &&
           distance_to(colours[i], mixture_chain(colours[j], colours[k])) < kNear;
  };
  const auto is_gradient = [&](std::size_t i) {
    if (!sloping(i)) return false;
    for (std::size_t j = 0; j < colours.size(); ++j) {
      for (std::size_t k = 0; k < j; ++k) {
        if (is_between(i, j, k)) return true;
      }
    }
    return false;
  };
  FlatColours kept;
  for (std::size_t i = 0; i < colours.size(); ++i) {
    if (is_gradient(i)) continue;
    kept.colours.push_back(colours[i]);
    if (i < flats.sure) ++kept.sure;
  }
  const bool dropped = kept.colours.size() < colours.size();
  flats = std::move(kept);
  return dropped;
}

bool drop_slopes(FlatColours& flats, const Cells& cells, const FlatTest& flat,
                 const std::vector<std::uint8_t>& labels) {
  constexpr double kMostly = 0.5;
  constexpr int kEven = 2;  // times the larger of its two steps: what a cell halfway down a slope rises by
  constexpr int kLooked = 4000;
  const std::size_t n = flats.colours.size();
  if (flats.sure == n) return false;
  std::vector<int> looked(n, 0);
  std::vector<int> slopes(n, 0);
  const auto sloping = [](const CellLab& before, const CellLab& here, const CellLab& after) {
    const int larger = std::max(gap2(before, here), gap2(here, after));
    return larger > kSteps * kSteps / 4 && gap2(before, after) > kEven * larger;
  };
  for (int y = 2; y + 1 < cells.height; y += 3) {
    if (y == cells.run_top(y) || y + 1 == cells.run_end(y)) continue;
    const std::uint8_t* label = labels.data() + cells.at(0, y);
    const std::uint8_t* tier = flat.row(y);
    for (int x = 1; x + 1 < cells.width; ++x) {
      const std::uint8_t i = label[x];
      if (i == kNoLabel || i < flats.sure || tier[x] == kNotFlat || looked[i] >= kLooked) continue;
      ++looked[i];
      const CellRow row = cells.row(y);
      if (sloping(row[x - 1], row[x], row[x + 1]) ||
          sloping(cells.row(y - 1)[x], row[x], cells.row(y + 1)[x]))
        ++slopes[i];
    }
  }
  FlatColours kept;
  kept.sure = flats.sure;
  for (std::size_t i = 0; i < n; ++i) {
    if (i < flats.sure || slopes[i] <= kMostly * looked[i]) kept.colours.push_back(flats.colours[i]);
  }
  flats = std::move(kept);
  return flats.colours.size() < n;
}

}  // namespace kithue::extract
