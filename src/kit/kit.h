// SPDX-License-Identifier: MIT
#pragma once

#include <cstddef>
#include <cstdint>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "advise/verdict.h"
#include "base/result.h"
#include "colour/lab.h"
#include "kit/length.h"

namespace kithue {

/// A colour of a face: written into the kit file, or read out of the photo.
struct KitColour {
  Lab lab;
  double share = 0.0;       ///< 0-1; 0 = not said
  std::string role;         ///< "ground", "motif", "accent"
  double error_de00 = 0.0;  ///< how far it may be off: from the photo; 0 when it was written down
};

/// A face has a photo, or colours, or both: then the photo is shown and the colours are believed.
struct KitFace {
  std::string label;                ///< "1A"; unique in the kit
  std::string where;                ///< its place in the kit file, "kit.toml:12:1"
  std::string photo;                ///< as written, relative to the kit file, or empty
  std::string crop;                 ///< as written ("10%,10%,80%,80%"), or empty
  std::vector<KitColour> colours;   ///< as written
  std::vector<std::string> stocks;  ///< the coordinating stocks the user named; empty = found by matching
  std::vector<std::string> inks;    ///< the coordinating inks the user named; empty = found by matching
  std::string sheet;         ///< the sheet it is a side of: as written, else the label without its letter
  bool directional = false;  ///< direction = "up": the pattern must not lie on its side
};

/// Which swatches are in play: the whole stash, or names.
struct KitRange {
  bool from_stash = true;
  std::vector<std::string> names;  ///< when not from the stash
  int choose = 0;                  ///< how many to settle on; 0 = not said
  std::vector<std::string> must;
  std::vector<std::string> never;
};

/// How a piece may lie on the sheet it is cut from.
enum class Turn {
  free,   ///< either way; a piece of a directional face lies upright all the same
  never,  ///< upright: the grain, or the pattern, asks for it
  always  ///< on its side: its width runs up the sheet
};

/// One piece of a card, cut from a stock or from a face of the pack.
struct KitPiece {
  std::string name;                  ///< unique in its card
  std::string where;                 ///< its place in the kit file
  std::string stock;                 ///< a name, or empty when `face` is set
  std::string face;                  ///< the label of a face, or empty
  std::vector<std::string> others;   ///< faces that do as well when there is too little of that one
  int wish = 0;                      ///< what it is worth when paper is short; 0 = not said
  Size size;                         ///< as it stands on the card
  int count = 1;                     ///< in each card
  std::vector<std::string> touches;  ///< other pieces of the card that it lies on or beside
  Turn turn = Turn::free;
  bool from_portion = false;   ///< the student cuts it from her portion
  std::vector<Length> scores;  ///< fold lines, measured along the longer side (along the width of a square)
};

enum class StampUse { fine, bold, picture };
std::string_view word_for(StampUse use) noexcept;  ///< "fine", "bold", "picture"

/// An ink stamped on a piece.
struct KitStamp {
  std::string where;
  std::string ink;  ///< a name, with the method in brackets where the kit says one: "Sea Glass (marker)"
  std::string on;   ///< a piece of the card
  StampUse use = StampUse::fine;
  double strength = 1.0;  ///< 0.5 stamped off, 1.5 stamped twice
  std::string words;      ///< what it says, or empty
};

struct KitCard {
  std::string name;
  std::string where;
  int count = 1;  ///< in each kit
  std::vector<KitPiece> pieces;
  std::vector<KitStamp> stamps;
};

/// A piece of the pack that goes into every kit as it is.
struct KitPortion {
  std::string where;
  Size size;
  std::vector<std::string> of;  ///< sheets of the pack; empty = every one
  int count = 1;                ///< of each, in each kit
};

/// Which way the fibres of a stock run on its sheet, as the sheet's size is written.
enum class Grain { unknown, up, across };

/// How a stock or an ink is bought, and what is at hand.
struct KitSupply {
  std::string where;
  std::string stock;  ///< one of the two
  std::string ink;
  std::optional<Size> sheet;                ///< stocks
  Grain grain = Grain::unknown;             ///< stocks
  int pack = 1;                             ///< stocks: sheets in what is bought at once
  std::optional<std::int64_t> price_cents;  ///< of such a pack, or of a pad
  std::optional<int> have;                  ///< sheets or pads at hand
};

/// The patterned paper.
struct KitPack {
  Size sheet{{12 * kNanometresPerInch}, {12 * kNanometresPerInch}};
  int copies = 1;                           ///< of each sheet in one pack
  std::optional<std::int64_t> price_cents;  ///< of one pack
  int have = 0;                             ///< packs at hand
};

/// The kit file as data; nothing here is looked up yet.
struct Kit {
  std::string name;
  std::string date;  ///< as written, or empty
  int kits = 1;
  int spares = 0;                 ///< whole kits beyond those
  double spoilage_percent = 0.0;  ///< pieces cut beyond what is needed
  std::string page;               ///< "A4" or "Letter"; empty = not said
  Unit unit = Unit::mm;           ///< what sizes are shown in
  std::optional<Bands> bands;
  KitPack pack;
  std::vector<KitFace> faces;
  KitRange inks;
  KitRange stocks;
  std::vector<std::string> base;                 ///< base stocks, each must carry a readable sentiment
  std::optional<Size> stock_sheet;               ///< of stocks whose supply does not say
  Grain stock_grain = Grain::unknown;            ///< of stocks whose supply does not say
  bool pad_each = false;                         ///< every kit has pads of its own; else one serves the class
  std::optional<std::int64_t> ink_cents;         ///< of a pad whose supply does not say
  std::optional<std::int64_t> ink_budget_cents;  ///< the most that a set of inks may cost
  std::optional<Length> punch;                   ///< dots for pattern strips: their width; empty = no strips
  Size snippet;  ///< of a face, for pattern strips: as wide and high as a dot unless the kit says
  std::vector<KitCard> cards;
  std::vector<KitPortion> portions;
  std::vector<KitSupply> supplies;
  std::vector<std::string> warnings;  ///< unknown keys with line and near spelling
};

const KitPiece* piece_named(const KitCard& card, const std::string& name);  ///< null when there is none
const KitFace* face_named(const Kit& kit, const std::string& label);        ///< null when there is none
/// The sheets of the pack, each once, in the order of the faces.
std::vector<std::string> sheets_of(const Kit& kit);
/// True when a face on either side of the sheet is directional.
bool is_directional(const Kit& kit, const std::string& sheet);
/// The supply of a stock or an ink by the name in the kit, spelling forgiven; null when the kit has none.
const KitSupply* supply_of_stock(const Kit& kit, const std::string& name);
const KitSupply* supply_of_ink(const Kit& kit, const std::string& name);
/// The sheet that a stock comes in: its supply's, else the kit's, else A4 or US Letter after the page.
Size sheet_of_stock(const Kit& kit, const std::string& name);
/// The grain of a stock: its supply's, else the kit's.
Grain grain_of_stock(const Kit& kit, const std::string& name);
/// "12.50".
std::string money_text(std::int64_t cents);

/// A kit file has a few hundred lines; more than this many bytes is not one.
inline constexpr std::size_t kMostKitBytes = 1024 * 1024;

/// Reads a kit file (TOML 1.0). Errors: bad_input with "name:line:column", what is wrong and what to write.
/// An unknown key is a warning. Source of the syntax: toml.io v1.0.0.
Result<Kit> parse_kit(std::string_view toml, const std::string& name);

}  // namespace kithue
