// SPDX-License-Identifier: MIT
#include "kit/kit_cards.h"

#include <algorithm>

#include "base/text.h"

namespace kithue {
namespace {

constexpr std::size_t kMostCards = 200;
constexpr std::size_t kMostPieces = 200;  // of one card
constexpr std::size_t kMostOthers = 1'000;
constexpr int kMostCount = 10'000;

constexpr std::string_view kSizeExample = "size = \"4 x 5 1/4 in\"";

std::vector<std::string> piece_names(const KitCard& card) {
  std::vector<std::string> names;
  for (const KitPiece& piece : card.pieces) names.push_back(piece.name);
  return names;
}

std::string meant(std::string_view typed, const std::vector<std::string>& known) {
  const auto near = near_spellings(typed, known);
  return near.empty() ? "known are " + joined(known, ", ") : "did you mean " + joined(near, " or ") + "?";
}

class CardReader {
 public:
  CardReader(TomlReader& in, Kit& kit) : in_(in), kit_(kit) {}
  bool read(const toml::table& root);

 private:
  bool card(const toml::table& table);
  bool piece(const toml::table& table, KitCard& into);
  bool source(const toml::table& table, KitPiece& into);
  bool others(const toml::table& table, KitPiece& into);
  bool face(const toml::node& at, std::string& label);
  bool turn(const toml::table& table, KitPiece& into);
  bool scores(const toml::table& table, KitPiece& into);
  bool touches(const KitCard& card, const std::vector<const toml::table*>& tables);
  bool stamp(const toml::table& table, KitCard& into);
  bool portion(const toml::table& table);
  bool supply(const toml::table& table);
  bool supplied_stock(const toml::table& table, KitSupply& into);
  bool fits_its_sheet(const toml::table& table, const KitPiece& piece);

  TomlReader& in_;
  Kit& kit_;
};

bool CardReader::source(const toml::table& table, KitPiece& into) {
  if (!in_.text(table, "stock", "stock = \"Sailcloth\"", into.stock)) return false;
  if (!in_.text(table, "face", "face = \"1A\"", into.face)) return false;
  if (into.stock.empty() == into.face.empty())
    return in_.fault(table,
                     "piece '" + into.name + "' must be cut from a stock or from a face" +
                         (into.stock.empty() ? "" : ", not both"),
                     "write stock = \"Sailcloth\" or face = \"1A\"");
  if (into.face.empty()) return true;
  return face(*table.get("face"), into.face);
}

/// The label as the face itself is labelled.
bool CardReader::face(const toml::node& at, std::string& label) {
  const KitFace* known = face_named(kit_, label);
  if (known == nullptr) {
    std::vector<std::string> labels;
    for (const KitFace& one : kit_.faces) labels.push_back(one.label);
    return in_.fault(at, "no face '" + label + "' in the pack",
                     labels.empty() ? "the kit has no [[face]] yet" : meant(label, labels));
  }
  label = known->label;
  return true;
}

bool CardReader::others(const toml::table& table, KitPiece& into) {
  if (!in_.names(table, "or", "or = [\"2B\"]", into.others)) return false;
  if (!in_.whole(table, "wish", 1, 1000, "wish = 3", into.wish)) return false;
  for (const char* key : {"or", "wish"}) {
    if (table.get(key) == nullptr || (!into.face.empty() && !into.from_portion)) continue;
    return in_.fault(*table.get(key),
                     "'" + std::string(key) + "' is for pieces cut from a face, not from a " +
                         (into.face.empty() ? "stock" : "portion"),
                     "take it out");
  }
  for (std::string& other : into.others) {
    if (!face(*table.get("or"), other)) return false;
    if (other == into.face)
      return in_.fault(*table.get("or"), "'or' names the face itself", "name other faces");
  }
  return true;
}

bool CardReader::turn(const toml::table& table, KitPiece& into) {
  std::string turn = "free";
  if (!in_.word(table, "turn", {"free", "never", "always"}, turn)) return false;
  into.turn = turn == "never" ? Turn::never : turn == "always" ? Turn::always : Turn::free;
  std::string from = "sheet";
  if (!in_.word(table, "from", {"sheet", "portion"}, from)) return false;
  into.from_portion = from == "portion";
  if (into.from_portion && into.face.empty())
    return in_.fault(*table.get("from"), "piece '" + into.name + "' is of a stock: portions are of the pack",
                     "take 'from' out");
  return true;
}

bool CardReader::scores(const toml::table& table, KitPiece& into) {
  if (!in_.lengths(table, "score", "score = \"4 1/4 in\"", true, into.scores)) return false;
  const Length longer = std::max(into.size.width, into.size.height);
  for (const Length score : into.scores) {
    if (score >= longer)
      return in_.fault(*table.get("score"),
                       "a score at " + length_text(score, kit_.unit) + " is off the piece, " +
                           size_text(into.size, kit_.unit),
                       "say how far along its longer side the fold runs");
  }
  std::sort(into.scores.begin(), into.scores.end());
  return true;
}

bool CardReader::fits_its_sheet(const toml::table& table, const KitPiece& piece) {
  const Size sheet = piece.face.empty() ? sheet_of_stock(kit_, piece.stock) : kit_.pack.sheet;
  const bool directional = !piece.face.empty() && face_named(kit_, piece.face)->directional;
  const bool upright = piece.size.width <= sheet.width && piece.size.height <= sheet.height;
  const bool aside = piece.size.height <= sheet.width && piece.size.width <= sheet.height;
  const bool may_stand = piece.turn != Turn::always;
  const bool may_lie = piece.turn == Turn::always || (piece.turn == Turn::free && !directional);
  if ((may_stand && upright) || (may_lie && aside)) return true;
  const std::string what = "piece '" + piece.name + "', " + size_text(piece.size, kit_.unit) +
                           ", does not fit its sheet, " + size_text(sheet, kit_.unit);
  if (upright || aside)
    return in_.fault(*table.get("size"), what + ", the way it must lie",
                     directional && piece.turn == Turn::free
                         ? "face " + piece.face + " is directional: make it smaller, or say turn = \"always\""
                         : "make it smaller, or change 'turn'");
  return in_.fault(*table.get("size"), what,
                   piece.face.empty()
                       ? "make it smaller, or say how large the sheet is: sheet = \"12 x 12 in\" "
                         "under [stocks] or [[supply]]"
                       : "make it smaller, or say how large the sheet is: sheet = \"12 x 12 in\" "
                         "under [pack]");
}

bool CardReader::piece(const toml::table& table, KitCard& into) {
  KitPiece piece;
  piece.where = in_.place(table);
  in_.warn_unknown(
      table, "[[card.piece]]",
      {"name", "stock", "face", "or", "wish", "size", "count", "touches", "turn", "from", "score"});
  if (table.get("name") == nullptr)
    return in_.fault(table, "a piece of card '" + into.name + "' has no name", "write name = \"mat\"");
  if (!in_.text(table, "name", "name = \"mat\"", piece.name)) return false;
  if (piece_named(into, piece.name) != nullptr)
    return in_.fault(*table.get("name"), "the piece '" + piece.name + "' stands twice in this card",
                     "give every piece of a card its own name, or say count = 2");
  if (!source(table, piece)) return false;
  std::optional<Size> size;
  if (table.get("size") == nullptr)
    return in_.fault(table, "piece '" + piece.name + "' has no size", "write " + std::string(kSizeExample));
  if (!in_.size(table, "size", kSizeExample, size)) return false;
  piece.size = *size;
  if (!in_.whole(table, "count", 1, kMostCount, "count = 2", piece.count)) return false;
  if (!in_.names(table, "touches", "touches = [\"mat\"]", piece.touches)) return false;
  if (!turn(table, piece) || !others(table, piece) || !scores(table, piece) || !fits_its_sheet(table, piece))
    return false;
  into.pieces.push_back(std::move(piece));
  return true;
}

bool CardReader::touches(const KitCard& card, const std::vector<const toml::table*>& tables) {
  for (std::size_t i = 0; i < card.pieces.size(); ++i) {
    for (const std::string& other : card.pieces[i].touches) {
      const toml::node& at = *tables[i]->get("touches");
      if (piece_named(card, other) == nullptr)
        return in_.fault(at, "no piece '" + other + "' in card '" + card.name + "'",
                         meant(other, piece_names(card)));
      if (piece_named(card, other) == &card.pieces[i])
        return in_.fault(at, "piece '" + other + "' cannot touch itself", "name another piece of the card");
    }
  }
  return true;
}

bool CardReader::stamp(const toml::table& table, KitCard& into) {
  KitStamp stamp;
  stamp.where = in_.place(table);
  in_.warn_unknown(table, "[[card.stamp]]", {"ink", "method", "on", "use", "strength", "words"});
  for (const char* key : {"ink", "on"}) {
    if (table.get(key) == nullptr)
      return in_.fault(table, "a stamp of card '" + into.name + "' has no '" + key + "'",
                       "write ink = \"Pitch Black\" and on = \"mat\"");
  }
  std::string method;
  if (!in_.text(table, "ink", "ink = \"Pitch Black\"", stamp.ink)) return false;
  if (!in_.text(table, "method", "method = \"pad\"", method)) return false;
  if (!method.empty()) stamp.ink += " (" + method + ")";
  if (!in_.text(table, "on", "on = \"mat\"", stamp.on)) return false;
  const KitPiece* on = piece_named(into, stamp.on);
  if (on == nullptr)
    return in_.fault(*table.get("on"), "no piece '" + stamp.on + "' in card '" + into.name + "'",
                     into.pieces.empty() ? "the card has no pieces yet" : meant(stamp.on, piece_names(into)));
  stamp.on = on->name;
  std::string use = "fine";
  if (!in_.word(table, "use", {"fine", "bold", "picture"}, use)) return false;
  stamp.use = use == "bold" ? StampUse::bold : use == "picture" ? StampUse::picture : StampUse::fine;
  if (!in_.number(table, "strength", 0.05, 5.0, "strength = 0.5", stamp.strength)) return false;
  if (!in_.text(table, "words", "words = \"hello\"", stamp.words)) return false;
  into.stamps.push_back(std::move(stamp));
  return true;
}

bool CardReader::card(const toml::table& table) {
  KitCard card;
  card.where = in_.place(table);
  in_.warn_unknown(table, "[[card]]", {"name", "count", "piece", "stamp"});
  if (table.get("name") == nullptr)
    return in_.fault(table, "a card has no name", "write name = \"Gulls\" under [[card]]");
  if (!in_.text(table, "name", "name = \"Gulls\"", card.name)) return false;
  for (const KitCard& other : kit_.cards) {
    if (folded(other.name) == folded(card.name))
      return in_.fault(*table.get("name"), "the card '" + card.name + "' stands twice",
                       "give every card its own name, or say count = 2");
  }
  if (!in_.whole(table, "count", 1, kMostCount, "count = 2", card.count)) return false;
  std::vector<const toml::table*> pieces;
  if (!in_.tables(table, "piece", kMostPieces, "[[card.piece]] on a line of its own", pieces)) return false;
  if (!std::all_of(pieces.begin(), pieces.end(), [&](const auto* one) { return piece(*one, card); }))
    return false;
  if (!touches(card, pieces)) return false;
  std::vector<const toml::table*> stamps;
  if (!in_.tables(table, "stamp", kMostPieces, "[[card.stamp]] on a line of its own", stamps)) return false;
  if (!std::all_of(stamps.begin(), stamps.end(), [&](const auto* one) { return stamp(*one, card); }))
    return false;
  kit_.cards.push_back(std::move(card));
  return true;
}

bool CardReader::portion(const toml::table& table) {
  KitPortion portion;
  portion.where = in_.place(table);
  in_.warn_unknown(table, "[[portion]]", {"size", "of", "count"});
  std::optional<Size> size;
  if (table.get("size") == nullptr)
    return in_.fault(table, "a portion has no size", "write size = \"6 x 12 in\"");
  if (!in_.size(table, "size", "size = \"6 x 12 in\"", size)) return false;
  portion.size = *size;
  if (!in_.names(table, "of", "of = [\"1\", \"2\"]", portion.of)) return false;
  if (!in_.whole(table, "count", 1, kMostCount, "count = 1", portion.count)) return false;
  const std::vector<std::string> known = sheets_of(kit_);
  if (known.empty())
    return in_.fault(table, "a portion of a pack without faces", "add [[face]] sections first");
  for (const std::string& sheet : portion.of) {
    if (std::find(known.begin(), known.end(), sheet) == known.end())
      return in_.fault(*table.get("of"), "no sheet '" + sheet + "' in the pack", meant(sheet, known));
  }
  const Size& paper = kit_.pack.sheet;
  const bool upright = portion.size.width <= paper.width && portion.size.height <= paper.height;
  const bool aside = portion.size.height <= paper.width && portion.size.width <= paper.height;
  const auto& sheets = portion.of.empty() ? known : portion.of;
  const bool directional = std::any_of(sheets.begin(), sheets.end(),
                                       [&](const std::string& sheet) { return is_directional(kit_, sheet); });
  if (!upright && (directional || !aside))
    return in_.fault(*table.get("size"),
                     "a portion of " + size_text(portion.size, kit_.unit) + " does not fit the sheet, " +
                         size_text(paper, kit_.unit) + (aside ? ", as a directional sheet must lie" : ""),
                     "make it smaller, or say how large the sheet is under [pack]");
  kit_.portions.push_back(std::move(portion));
  return true;
}

bool CardReader::supplied_stock(const toml::table& table, KitSupply& into) {
  for (const char* key : {"sheet", "pack", "grain"}) {
    if (table.get(key) != nullptr && into.stock.empty())
      return in_.fault(*table.get(key), "'" + std::string(key) + "' belongs to a stock, not to an ink",
                       "take it out");
  }
  return in_.size(table, "sheet", "sheet = \"12 x 12 in\"", into.sheet) &&
         in_.whole(table, "pack", 1, kMostCount, "pack = 10", into.pack) &&
         read_grain(in_, table, into.grain);
}

bool CardReader::supply(const toml::table& table) {
  KitSupply supply;
  supply.where = in_.place(table);
  in_.warn_unknown(table, "[[supply]]", {"stock", "ink", "sheet", "grain", "pack", "price", "have"});
  if (!in_.text(table, "stock", "stock = \"Sailcloth\"", supply.stock)) return false;
  if (!in_.text(table, "ink", "ink = \"Pitch Black\"", supply.ink)) return false;
  if (supply.stock.empty() == supply.ink.empty())
    return in_.fault(table, "a supply is of a stock or of an ink",
                     "write stock = \"Sailcloth\" or ink = \"Pitch Black\"");
  if (supply_of_stock(kit_, supply.stock) != nullptr || supply_of_ink(kit_, supply.ink) != nullptr)
    return in_.fault(table, "'" + supply.stock + supply.ink + "' has a supply already",
                     "put both into one [[supply]]");
  if (!supplied_stock(table, supply)) return false;
  if (!in_.cents(table, "price", supply.price_cents)) return false;
  int have = -1;
  if (!in_.whole(table, "have", 0, 1'000'000, "have = 12", have)) return false;
  if (have >= 0) supply.have = have;
  kit_.supplies.push_back(std::move(supply));
  return true;
}

bool CardReader::read(const toml::table& root) {
  const auto each = [&](std::string_view key, std::size_t most, std::string_view example, auto reader) {
    std::vector<const toml::table*> list;
    return in_.tables(root, key, most, example, list) &&
           std::all_of(list.begin(), list.end(), [&](const auto* one) { return (this->*reader)(*one); });
  };
  // Supplies first: they say how large a sheet is, and pieces must fit.
  return each("supply", kMostOthers, "[[supply]] on a line of its own", &CardReader::supply) &&
         each("portion", kMostOthers, "[[portion]] on a line of its own", &CardReader::portion) &&
         each("card", kMostCards, "[[card]] on a line of its own", &CardReader::card);
}

}  // namespace

bool read_grain(TomlReader& in, const toml::table& table, Grain& into) {
  std::string grain;
  if (!in.word(table, "grain", {"up", "across"}, grain)) return false;
  into = grain == "up" ? Grain::up : grain == "across" ? Grain::across : Grain::unknown;
  return true;
}

bool read_cards(TomlReader& in, const toml::table& root, Kit& kit) {
  return CardReader(in, kit).read(root);
}

}  // namespace kithue
