// SPDX-License-Identifier: MIT
#pragma once

#include <optional>
#include <string>
#include <utility>
#include <vector>

#include "base/result.h"
#include "kit/kit.h"
#include "swatch/stash.h"

namespace kithue {

/// The colours of the faces of a kit, in its order: written down, or read out of the photos.
using FaceColours = std::vector<std::vector<KitColour>>;

/// Two pieces of a card that lie on or beside each other, each pair once however often it is written.
struct TouchingPieces {
  const KitPiece* a = nullptr;  ///< the one that comes first in the card
  const KitPiece* b = nullptr;
};
std::vector<TouchingPieces> touching_pieces(const KitCard& card);

/// The swatch of that name and kind. Errors: not_found, ambiguous; bad_input for one of another kind; `where`
/// is `where`.
Result<const Swatch*> swatch_of_kind(const Stash& stash, const std::string& name, Kind kind,
                                     const std::string& where);

/// The colour that touches: of a stock its own, of a face its ground (its largest colour where none is
/// called so), with what the photo may be off by. Nothing for a stock without a number or a face without
/// colours. Errors: those of swatch_of_kind().
Result<std::optional<NamedColour>> colour_of_piece(const Kit& kit, const Stash& stash,
                                                   const FaceColours& faces, const KitPiece& piece);

/// Every pair of colours that touches in a kit, once, and on which cards it does.
struct TouchingColours {
  std::vector<NamedColour> colours;  ///< each once
  std::vector<std::pair<std::size_t, std::size_t>> pairs;
  std::vector<std::vector<std::string>> where;  ///< for each pair: "Gulls: base + mat"
  std::vector<std::string> without_number;      ///< pieces that cannot be judged, by stock or face
};
/// A colour that touches itself is no pair. Errors: those of colour_of_piece().
Result<TouchingColours> touching_colours(const Kit& kit, const Stash& stash, const FaceColours& faces);

}  // namespace kithue
