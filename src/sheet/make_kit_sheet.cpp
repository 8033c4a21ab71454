// SPDX-License-Identifier: MIT
#include "sheet/make_kit_sheet.h"

#include <algorithm>
#include <utility>

#include "advise/ink_on_stock.h"
#include "advise/match.h"
#include "advise/standin.h"
#include "base/text.h"

namespace kithue {
namespace {

/// What is mailed is the closed card: the widest part between the folds, which run across the longer side.
void fold(const KitPiece& piece, CardPiece& drawn) {
  if (piece.scores.empty()) return;
  const bool along_width = piece.size.width >= piece.size.height;
  std::vector<Length> edges = piece.scores;
  edges.push_back({0});
  edges.push_back(along_width ? piece.size.width : piece.size.height);
  std::sort(edges.begin(), edges.end());
  Length widest{0};
  for (std::size_t i = 1; i < edges.size(); ++i) widest = std::max(widest, edges[i] - edges[i - 1]);
  (along_width ? drawn.width_mm : drawn.height_mm) = mm_of(widest);
  drawn.folded = true;
}

Result<CardPiece> piece_of(const Kit& kit, const Stash& stash, const ReadFaces& faces, const KitCard& card,
                           const KitPiece& piece) {
  CardPiece drawn{piece.name, "", size_text(piece.size, kit.unit), "", piece.count};
  drawn.width_mm = mm_of(piece.size.width);
  drawn.height_mm = mm_of(piece.size.height);
  fold(piece, drawn);
  const auto colour = colour_of_piece(kit, stash, faces.colours, piece);
  if (!colour) return colour.error();
  if (*colour) drawn.lab = (*colour)->lab;
  if (piece.face.empty()) {
    const auto swatch = swatch_of_kind(stash, piece.stock, Kind::stock, piece.where);
    if (!swatch) return swatch.error();
    drawn.of = (*swatch)->name;
    drawn.batch = (*swatch)->batch;
  } else {
    const KitFace* face = face_named(kit, piece.face);
    const auto index = static_cast<std::size_t>(face - kit.faces.data());
    drawn.of = "face " + face->label;
    drawn.picture = faces.pictures[index];
    drawn.stripes = faces.colours[index];
    if (piece.from_portion) drawn.size += ", cut it from your portion";
  }
  for (const std::string& name : piece.touches) {
    const KitPiece* other = piece_named(card, name);
    if (other != nullptr) drawn.touches.push_back(static_cast<std::size_t>(other - card.pieces.data()));
  }
  return drawn;
}

std::string manner_of(double strength) {
  if (strength < 0.8) return "stamped off first";
  return strength > 1.2 ? "stamped twice" : "";
}

Result<CardStamp> stamp_of(const Kit& kit, const Stash& stash, const ReadFaces& faces, const KitCard& card,
                           const KitStamp& stamp) {
  const auto swatch = swatch_of_kind(stash, stamp.ink, Kind::ink, stamp.where);
  if (!swatch) return swatch.error();
  const KitPiece* piece = piece_named(card, stamp.on);
  CardStamp drawn{static_cast<std::size_t>(piece - card.pieces.data()), (*swatch)->name, (*swatch)->method,
                  manner_of(stamp.strength), stamp.words};
  const auto ink = named_colour_of(**swatch);
  const auto colour = colour_of_piece(kit, stash, faces.colours, *piece);
  if (!colour) return colour.error();
  if (ink && *colour) {
    InkOptions options;
    options.strength = stamp.strength;
    const InkOnStock print = ink_on_stock(ink_model(stash, *ink, options), **colour);
    drawn.lab = print.lab;
    drawn.estimated = print.estimated;
  }
  return drawn;
}

/// The stocks of the cards and the bases that have a number, each once.
std::vector<NamedColour> stock_colours(const Kit& kit, const Stash& stash) {
  std::vector<std::string> names = kit.base;
  for (const KitCard& card : kit.cards) {
    for (const KitPiece& piece : card.pieces) {
      if (!piece.stock.empty()) names.push_back(piece.stock);
    }
  }
  std::vector<NamedColour> colours;
  for (const std::string& name : names) {
    const auto swatch = swatch_of_kind(stash, name, Kind::stock, "");
    if (!swatch) continue;
    const bool known = std::any_of(colours.begin(), colours.end(),
                                   [&](const NamedColour& one) { return one.swatch == *swatch; });
    auto colour = named_colour_of(**swatch);
    if (!known && colour) colours.push_back(*std::move(colour));
  }
  return colours;
}

/// "Kelp Green (pad): a touch darker"; empty when nothing good is owned.
std::string stand_in_line(const Stash& stash, const Swatch& ink, const std::vector<const Swatch*>& inks,
                          const std::vector<NamedColour>& stocks, const Bands& bands) {
  const auto colour = named_colour_of(ink);
  if (!colour) return "";
  StandInOptions options;
  options.count = inks.size() + 5;
  options.kind = Kind::ink;
  for (const StandIn& one : stand_ins(stash, *colour, stocks, options, bands)) {
    if (!one.good || !one.near_misses.empty()) continue;
    if (std::find(inks.begin(), inks.end(), one.match.swatch) != inks.end()) continue;
    return full_name(*one.match.swatch) + (one.match.words.empty() ? "" : ": " + one.match.words);
  }
  return "";
}

bool same_ink(const Swatch& a, const Swatch& b) {
  return a.kind == b.kind && folded(a.name) == folded(b.name) &&
         (a.method.empty() || b.method.empty() || folded(a.method) == folded(b.method));
}

}  // namespace

SheetDot dot_of(const Swatch& swatch) {
  return {swatch.name, swatch.kind == Kind::ink ? swatch.method : "", colour_of(swatch)};
}

Result<std::vector<const Swatch*>> inks_of_kit(const Kit& kit, const Stash& stash,
                                               const std::vector<const Swatch*>& settled,
                                               const std::string& where) {
  std::vector<const Swatch*> inks;
  const auto add = [&](const std::string& name, const std::string& place) -> MaybeError {
    const auto swatch = swatch_of_kind(stash, name, Kind::ink, place);
    if (!swatch) return swatch.error();
    if (std::find(inks.begin(), inks.end(), *swatch) == inks.end()) inks.push_back(*swatch);
    return std::nullopt;
  };
  for (const KitCard& card : kit.cards) {
    for (const KitStamp& stamp : card.stamps) {
      if (MaybeError error = add(stamp.ink, stamp.where)) return *error;
    }
  }
  for (const std::string& name : kit.inks.must) {
    if (MaybeError error = add(name, where)) return *error;
  }
  return inks.empty() ? settled : inks;
}

Result<KitSheet> make_kit_sheet(const Kit& kit, const Stash& stash, const ReadFaces& faces,
                                const std::vector<const Swatch*>& inks, const Bands& bands) {
  KitSheet sheet;
  sheet.name = kit.name;
  sheet.date = kit.date;
  for (const KitCard& card : kit.cards) {
    Card drawn{card.name, card.count};
    for (const KitPiece& piece : card.pieces) {
      auto one = piece_of(kit, stash, faces, card, piece);
      if (!one) return one.error();
      drawn.pieces.push_back(*std::move(one));
    }
    for (const KitStamp& stamp : card.stamps) {
      auto one = stamp_of(kit, stash, faces, card, stamp);
      if (!one) return one.error();
      drawn.stamps.push_back(*std::move(one));
    }
    sheet.cards.push_back(std::move(drawn));
  }
  const std::vector<NamedColour> stocks = stock_colours(kit, stash);
  for (const Swatch* ink : inks)
    sheet.inks.push_back({dot_of(*ink), ink->batch, stand_in_line(stash, *ink, inks, stocks, bands)});
  return sheet;
}

StudentPage make_student_page(const Kit& kit, const Stash& stash, const std::vector<const Swatch*>& inks,
                              const Stash& range, const Bands& bands) {
  StudentPage page;
  page.kit = kit.name;
  page.date = kit.date;
  Stash free = range;
  std::vector<NamedColour> missing;
  std::vector<std::size_t> places;
  for (const Swatch* ink : inks) {
    page.inks.push_back({dot_of(*ink)});
    const auto own = std::find_if(free.swatches.begin(), free.swatches.end(),
                                  [&](const Swatch& hers) { return same_ink(hers, *ink); });
    if (own != free.swatches.end()) {
      page.inks.back().use = StudentInk::Use::owned;
      page.inks.back().own = dot_of(*own);
      free.swatches.erase(own);
    } else if (auto colour = named_colour_of(*ink)) {
      places.push_back(page.inks.size() - 1);
      missing.push_back(*std::move(colour));
    }
  }
  if (missing.empty()) return page;
  StandInOptions options;
  options.kind = Kind::ink;
  const auto found = stand_ins_one_to_one(free, missing, stock_colours(kit, stash), options, bands);
  for (std::size_t i = 0; i < found.size(); ++i) {
    if (!found[i] || !found[i]->good) continue;
    StudentInk& ink = page.inks[places[i]];
    ink.use = StudentInk::Use::stand_in;
    ink.own = dot_of(*found[i]->match.swatch);
    ink.words = found[i]->match.words;
    if (!found[i]->near_misses.empty())
      ink.caution = "looks like a failed match beside " + joined(found[i]->near_misses, " and ");
  }
  return page;
}

}  // namespace kithue
