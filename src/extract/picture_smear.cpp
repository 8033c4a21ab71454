// SPDX-License-Identifier: MIT
#include "extract/picture_smear.h"

#include <algorithm>
#include <cstddef>

#include "extract/mixture.h"

namespace kithue::extract {
namespace {

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

}  // namespace

EdgeSmears picture_smear(const Found& found, const Cells& cells, const std::vector<Lab>& known,
                         const Cutter& cutter, Executor& executor) {
  constexpr double kSharp = 0.33;  // pixels
  constexpr double kNear = 2.5;    // cells
  constexpr double kFar = 8.0;
  std::vector<const Edge*> sure;
  std::vector<const Edge*> others;
  for (const Edge& e : found.edges) (e.sure ? sure : others).push_back(&e);
  EdgeSmears smear = edge_sharpness(cuts_over(sure, cells, known, cutter, kNear), kSharp, executor);
  if (smear.lens.sharp <= 0.0) {
    for (const Edge& e : found.soft_edges) sure.push_back(&e);
    smear = edge_sharpness(cuts_over(sure, cells, known, cutter, kFar), kDoubtedSmear, executor);
  }
  if (smear.lens.sharp > 0.0 && smear.lens.sharp < kDoubtedSmear) return smear;
  const EdgeSmears strokes = edge_sharpness(cuts_over(others, cells, known, cutter, 0.0), kSharp, executor);
  const bool sharper = strokes.lens.sharp > 0.0 && strokes.lens.sharp < kMuchSharper * smear.lens.sharp;
  return smear.lens.sharp <= 0.0 || sharper ? strokes : smear;
}

}  // namespace kithue::extract
