// SPDX-License-Identifier: MIT
#include "kit/touching.h"

#include <algorithm>

#include "advise/match.h"

namespace kithue {
namespace {

/// The largest ground, else the largest colour of all.
const KitColour* ground_of(const std::vector<KitColour>& colours) {
  const KitColour* best = nullptr;
  for (const KitColour& colour : colours) {
    const bool ground = colour.role == "ground";
    const bool best_ground = best != nullptr && best->role == "ground";
    if (best == nullptr || (ground && !best_ground) || (ground == best_ground && colour.share > best->share))
      best = &colour;
  }
  return best;
}

template <typename T>
void add_once(std::vector<T>& list, const T& one) {
  if (std::find(list.begin(), list.end(), one) == list.end()) list.push_back(one);
}

std::size_t index_of(std::vector<NamedColour>& colours, const NamedColour& colour) {
  const auto found = std::find_if(colours.begin(), colours.end(), [&](const NamedColour& one) {
    return one.name == colour.name && one.swatch == colour.swatch;
  });
  if (found != colours.end()) return static_cast<std::size_t>(found - colours.begin());
  colours.push_back(colour);
  return colours.size() - 1;
}

}  // namespace

std::vector<TouchingPieces> touching_pieces(const KitCard& card) {
  std::vector<TouchingPieces> pairs;
  for (const KitPiece& piece : card.pieces) {
    for (const std::string& name : piece.touches) {
      const KitPiece* other = piece_named(card, name);
      const KitPiece* first = std::min(&piece, other);
      const KitPiece* second = std::max(&piece, other);
      const bool known = std::any_of(pairs.begin(), pairs.end(), [&](const TouchingPieces& pair) {
        return pair.a == first && pair.b == second;
      });
      if (!known) pairs.push_back({first, second});
    }
  }
  return pairs;
}

Result<const Swatch*> swatch_of_kind(const Stash& stash, const std::string& name, Kind kind,
                                     const std::string& where) {
  auto found = find_swatch(stash, name);
  if (!found) {
    Error error = found.error();
    error.where = where;
    return error;
  }
  if ((*found)->kind != kind)
    return Error{ErrorKind::bad_input,
                 "'" + name + "' is a swatch of kind " + std::string(word_for((*found)->kind)) + ", not " +
                     std::string(word_for(kind)),
                 where, "take it out, or correct its kind with 'kithue stash edit'"};
  return *found;
}

Result<std::optional<NamedColour>> colour_of_piece(const Kit& kit, const Stash& stash,
                                                   const FaceColours& faces, const KitPiece& piece) {
  if (piece.face.empty()) {
    const auto swatch = swatch_of_kind(stash, piece.stock, Kind::stock, piece.where);
    if (!swatch) return swatch.error();
    return named_colour_of(**swatch);
  }
  const KitFace* face = face_named(kit, piece.face);
  const KitColour* ground = ground_of(faces[static_cast<std::size_t>(face - kit.faces.data())]);
  if (ground == nullptr) return std::optional<NamedColour>();
  return std::optional<NamedColour>(
      NamedColour{"the ground of face " + face->label, ground->lab, ground->error_de00, nullptr});
}

Result<TouchingColours> touching_colours(const Kit& kit, const Stash& stash, const FaceColours& faces) {
  TouchingColours all;
  for (const KitCard& card : kit.cards) {
    for (const TouchingPieces& touching : touching_pieces(card)) {
      std::vector<NamedColour> two;
      for (const KitPiece* piece : {touching.a, touching.b}) {
        auto colour = colour_of_piece(kit, stash, faces, *piece);
        if (!colour) return colour.error();
        if (*colour)
          two.push_back(**colour);
        else
          add_once(all.without_number, piece->face.empty() ? piece->stock : "face " + piece->face);
      }
      if (two.size() < 2) continue;
      std::pair<std::size_t, std::size_t> pair{index_of(all.colours, two[0]), index_of(all.colours, two[1])};
      if (pair.first == pair.second) continue;
      if (pair.first > pair.second) std::swap(pair.first, pair.second);
      const auto found = std::find(all.pairs.begin(), all.pairs.end(), pair);
      const auto at = static_cast<std::size_t>(found - all.pairs.begin());
      if (found == all.pairs.end()) {
        all.pairs.push_back(pair);
        all.where.emplace_back();
      }
      add_once(all.where[at], card.name + ": " + touching.a->name + " + " + touching.b->name);
    }
  }
  return all;
}

}  // namespace kithue
