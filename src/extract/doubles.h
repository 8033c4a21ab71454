// SPDX-License-Identifier: MIT
#pragma once

#include <cstddef>
#include <span>
#include <vector>

#include "colour/lab.h"
#include "extract/coding.h"
#include "extract/thin_colour.h"

/// What a colour that only lines seem to have may be, other than a colour.
namespace kithue::extract {

/// True when it is a known one.
bool same_as_known(const Lab& lab, const std::vector<Lab>& known);

/// True when a thin colour is no more than light and shade on the fibres or relief of a sheet. `grain` in
/// steps; `drawn`: many places show one broad band of it.
bool is_relief(const Lab& lab, std::span<const Lab> grounds, int grain, bool drawn);

/// True when the colour is the rim of something larger: as dark as a mixture of a ground with it, but with
/// less of its colour, which the coding has smeared. `known_cells`: how many cells bear each known colour; of
/// those from `sure` on, which are of small things, only the middles are counted. `alone`: seen as lines with
/// the same ground on both sides, where a rim has the larger thing on one. `broad`: wide enough that its
/// brightness is its own.
bool is_smeared(const ThinColour& one, const std::vector<Light>& known, std::size_t sure,
                const std::vector<double>& known_cells, const std::vector<ThinColour>& found, bool alone,
                bool broad, const Matrix3& to_xyz);

/// True when the colour is one found before, seen through a worse cut: it lies on the way from a ground to
/// that colour, or a little past it. A line wide enough to be sure of is its own colour, and so is one of at
/// least `sure_width` pixels that is seen often, unless it looks like a mixture. `detailed`: the picture is
/// large enough for that. `dots`: seen on something short, which may be no more than the end of a line.
bool same_ray(const ThinColour& one, double sure_width, bool dots, bool detailed,
              const std::vector<Lab>& grounds, const std::vector<ThinColour>& found);

/// True when it is a faded line of a `known` or `found` colour in a known one of nearly the same brightness:
/// the coding shows hardly an edge between the two, and the line comes out wide, with a part of its own
/// colour. What lies where these two meet is none.
bool is_faded(const ThinColour& one, const std::vector<Lab>& known, const std::vector<ThinColour>& found);

}  // namespace kithue::extract
