// SPDX-License-Identifier: MIT
#pragma once

#include <cstddef>
#include <optional>
#include <string>
#include <vector>

#include "sheet/page.h"
#include "sheet/parts.h"
#include "sheet/shape.h"

namespace kithue {

/// A piece of a card as it is drawn flat.
struct CardPiece {
  std::string name;   ///< the user's text
  std::string of;     ///< the stock, or "face 1A"
  std::string size;   ///< "4 x 5 1/4 in"
  std::string batch;  ///< of the stock, or empty
  int count = 1;
  double width_mm = 10.0;  ///< of the closed card, for a piece that is folded
  double height_mm = 10.0;
  bool folded = false;
  std::optional<Lab> lab;              ///< of a stock; of a face its ground
  std::vector<KitColour> stripes;      ///< of a face without a picture
  std::optional<std::size_t> picture;  ///< of a face: index into the pictures of the sheet
  std::vector<std::size_t> touches;    ///< indices of pieces
};

/// An ink stamped on a piece.
struct CardStamp {
  std::size_t on = 0;  ///< index of the piece
  std::string ink;
  std::string method;
  std::string manner;      ///< "stamped off", "stamped twice", or empty
  std::string words;       ///< what it says; empty for a picture
  std::optional<Lab> lab;  ///< of the print on that piece
  bool estimated = true;   ///< false: measured
};

struct Card {
  std::string name;
  int count = 1;
  std::vector<CardPiece> pieces;
  std::vector<CardStamp> stamps;
};

/// Where one piece lies on the card, from the left and the top of what reaches furthest, in millimetres of
/// the real card.
struct LaidPiece {
  std::size_t piece = 0;
  Bounds at;
};

/// The pieces of a card as they lie on each other, the lowest first: the larger below the smaller, each in
/// the middle of the smallest piece that it touches and fits on, or beside what it does not touch. The kit
/// file does not say where pieces lie: this is a sketch of how, not a measure. Pieces of which there are
/// several lie side by side, at most six drawn.
std::vector<LaidPiece> arranged(const Card& card);

/// The largest free part of a piece: not under a later one, nor under `taken`. Empty when it is covered.
std::optional<Bounds> free_part(const std::vector<LaidPiece>& placed, std::size_t index,
                                const std::vector<Bounds>& taken);

/// Draws the card, arranged as `placed`, flat with its left top corner at (x, y), at `scale` (drawn mm per
/// real mm), in the colours of its stocks and of its prints; prints that would be too small, or lie under
/// another piece, are left out. Pictures of faces are cut to the piece and added to the document.
void draw_card(Block& into, const Card& card, const std::vector<LaidPiece>& placed, double x, double y,
               double scale, TextShaper& shaper, const std::vector<SheetPicture>& pictures,
               Document& document);

/// A small picture of one print: the piece's colour with the words, or a flower, in the colour of the print.
void draw_print(Block& into, const Card& card, const CardStamp& stamp, const Bounds& box, TextShaper& shaper);

}  // namespace kithue
