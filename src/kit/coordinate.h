// SPDX-License-Identifier: MIT
#pragma once

#include <cstddef>
#include <string>
#include <vector>

#include "base/result.h"
#include "kit/kit.h"
#include "swatch/stash.h"

namespace kithue {

/// A stock or an ink that goes with a face.
struct Coordinate {
  const Swatch* swatch = nullptr;  ///< never null
  bool named = false;              ///< the user wrote it down; else found by matching
  std::size_t colour = 0;          ///< found: index of the face's colour it is nearest to
  double de00 = 0.0;               ///< found: how far from that colour
  std::string words;               ///< found: how it differs from that colour
};

/// The swatches of one kind that a kit may use.
struct InPlay {
  std::vector<const Swatch*> swatches;  ///< in order of id
};

/// Looks the names of a range up. "stash" means all that are neither retired nor out of stock.
/// Errors: not_found or ambiguous for a name, bad_input for a name of another kind; `where` is `where`.
Result<InPlay> in_play(const Stash& stash, const KitRange& range, Kind kind, const std::string& where);

/// The swatches named for a face, in the user's order. Errors as in_play().
Result<std::vector<Coordinate>> named_coordinates(const Stash& stash, const std::vector<std::string>& names,
                                                  Kind kind, const std::string& where);

/// How many stocks a face is given when the user named none.
inline constexpr std::size_t kStocksPerFace = 3;

/// Up to `most` swatches for a face: the nearest to its ground, its largest motif, its largest accent, then
/// to its other colours, each at most once. A swatch further than `limit` dE00 from every colour does not
/// coordinate. Inks draw, so they follow the motifs and accents; the ground only where it is all there is.
/// When that leaves none, the single nearest is given all the same.
std::vector<Coordinate> found_coordinates(const Stash& stash, const InPlay& range,
                                          const std::vector<KitColour>& colours, Kind kind, std::size_t most,
                                          double limit = 12.0);

/// The solids of a pattern strip, each once: the base stocks, then those of the faces in their order.
std::vector<const Swatch*> strip_solids(const std::vector<Coordinate>& base,
                                        const std::vector<std::vector<Coordinate>>& faces);

}  // namespace kithue
