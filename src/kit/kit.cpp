// SPDX-License-Identifier: MIT
#include "kit/kit.h"

#include <algorithm>
#include <set>

#include "base/text.h"
#include "colour/css.h"
#include "kit/kit_cards.h"
#include "kit/toml_depth.h"
#include "kit/toml_reader.h"

namespace kithue {
namespace {

constexpr int kMostKits = 100'000;
constexpr int kMostChosen = 100;
constexpr std::size_t kMostFaces = 1'000;

/// The parts of a kit file that say what is in the kit; the cards are read by kit_cards.
class KitReader {
 public:
  explicit KitReader(std::string name) : in_(std::move(name)) {}
  Result<Kit> read(const toml::table& root);

 private:
  bool head(const toml::table& root);
  bool page(const toml::table& root);
  bool date(const toml::table& root);
  bool bands(const toml::table& root);
  bool pack(const toml::table& root);
  bool strip(const toml::table& root);
  bool range(const toml::table& root, std::string_view key, KitRange& into, bool stocks);
  bool from(const toml::table& table, KitRange& into);
  bool faces(const toml::table& root);
  bool face(const toml::table& table);
  bool colours(const toml::table& table, KitFace& into);
  bool colour(const toml::node& node, bool first, KitColour& into);

  TomlReader in_;
  Kit kit_;
  std::set<std::string> labels_;
};

/// "1" for "1A" and "1 b": the two sides of a sheet have one name and a letter each.
std::string without_side(const std::string& label) {
  const char last = label.back();
  const bool sided = label.size() > 1 && (last == 'A' || last == 'B' || last == 'a' || last == 'b');
  const std::string sheet(sided ? trimmed(std::string_view(label).substr(0, label.size() - 1)) : label);
  return sheet.empty() ? label : sheet;
}

bool KitReader::date(const toml::table& root) {
  const toml::node* node = root.get("date");
  if (node == nullptr) return true;
  if (const auto* day = node->as_date()) {
    const auto padded = [](int value, std::size_t digits) {
      const std::string text = std::to_string(value);
      return std::string(digits > text.size() ? digits - text.size() : 0, '0') + text;
    };
    const toml::date& held = day->get();
    kit_.date = padded(held.year, 4) + "-" + padded(held.month, 2) + "-" + padded(held.day, 2);
    return true;
  }
  return in_.checked_name(*node, "date", "date = \"November 2026\"", kit_.date);
}

bool KitReader::page(const toml::table& root) {
  if (!in_.word(root, "page", {"A4", "Letter"}, kit_.page)) return false;
  kit_.unit = kit_.page == "Letter" ? Unit::inch : Unit::mm;
  std::string units(word_for(kit_.unit));
  if (!in_.word(root, "units", {"mm", "cm", "in"}, units)) return false;
  kit_.unit = units == "mm" ? Unit::mm : units == "cm" ? Unit::cm : Unit::inch;
  return true;
}

bool KitReader::bands(const toml::table& root) {
  constexpr std::string_view kExample = "bands = [1, 2, 6, 12]";
  const toml::node* node = root.get("bands");
  if (node == nullptr) return true;
  const auto* list = node->as_array();
  if (list == nullptr || list->size() != 4)
    return in_.wrong_kind(*node, "bands", "the four limits of same, match, near-miss and step", kExample);
  std::vector<double> limits;
  for (const toml::node& item : *list) {
    const auto value = item.value<double>();
    if (!item.is_number() || !value) return in_.wrong_kind(item, "bands", "four numbers", kExample);
    limits.push_back(*value);
  }
  const auto bands = bands_of(limits);
  if (!bands)
    return in_.fault(*node, "the limits of 'bands' must rise from 0 to 1000",
                     "the usual ones are bands = [1, 2, 6, 12]");
  kit_.bands = *bands;
  return true;
}

bool KitReader::pack(const toml::table& root) {
  const toml::node* node = root.get("pack");
  if (node == nullptr) return true;
  const auto* table = node->as_table();
  if (table == nullptr) return in_.wrong_kind(*node, "pack", "a section", "[pack] on a line of its own");
  in_.warn_unknown(*table, "[pack]", {"sheet", "copies", "price", "have"});
  std::optional<Size> sheet;
  if (!in_.size(*table, "sheet", "sheet = \"12 x 12 in\"", sheet)) return false;
  kit_.pack.sheet = sheet.value_or(kit_.pack.sheet);
  return in_.whole(*table, "copies", 1, 1000, "copies = 2", kit_.pack.copies) &&
         in_.cents(*table, "price", kit_.pack.price_cents) &&
         in_.whole(*table, "have", 0, 1'000'000, "have = 3", kit_.pack.have);
}

bool KitReader::strip(const toml::table& root) {
  const toml::node* node = root.get("strip");
  if (node == nullptr) return true;
  const auto* table = node->as_table();
  if (table == nullptr) return in_.wrong_kind(*node, "strip", "a section", "[strip] on a line of its own");
  in_.warn_unknown(*table, "[strip]", {"punch", "snippet"});
  std::vector<Length> punch{};
  if (!in_.lengths(*table, "punch", "punch = \"1 in\"", false, punch)) return false;
  if (punch.empty()) return in_.fault(*node, "[strip] has no 'punch'", "write punch = \"1 in\"");
  kit_.punch = punch.front();
  std::optional<Size> snippet;
  if (!in_.size(*table, "snippet", "snippet = \"20 x 20 mm\"", snippet)) return false;
  kit_.snippet = snippet.value_or(Size{*kit_.punch, *kit_.punch});
  const Size& sheet = kit_.pack.sheet;
  if (kit_.snippet.width > sheet.width || kit_.snippet.height > sheet.height)
    return in_.fault(*table->get(snippet ? "snippet" : "punch"),
                     "a snippet of " + size_text(kit_.snippet, kit_.unit) + " does not fit the sheet, " +
                         size_text(sheet, kit_.unit),
                     "make it smaller, or say how large the sheet is under [pack]");
  return true;
}

bool KitReader::head(const toml::table& root) {
  const toml::node* name = root.get("name");
  if (name == nullptr)
    return in_.fault(root, "the kit has no name", "write name = \"Harbour Morning\" at the top");
  return in_.checked_name(*name, "name", "name = \"Harbour Morning\"", kit_.name) &&
         in_.whole(root, "kits", 1, kMostKits, "kits = 24", kit_.kits) &&
         in_.whole(root, "spares", 0, kMostKits, "spares = 1", kit_.spares) &&
         in_.number(root, "spoilage_percent", 0.0, 100.0, "spoilage_percent = 5", kit_.spoilage_percent) &&
         page(root) && date(root) && bands(root) && pack(root) && strip(root);
}

bool KitReader::from(const toml::table& table, KitRange& into) {
  constexpr std::string_view kFrom = "from = \"stash\" or from = [\"Wet Sand\", \"Gull\"]";
  if (const toml::node* from = table.get("from")) {
    if (const auto* word = from->as_string()) {
      if (word->get() != "stash")
        return in_.fault(*from, "'from' does not know \"" + word->get() + "\"",
                         "write " + std::string(kFrom));
    } else {
      if (!from->is_array()) return in_.wrong_kind(*from, "from", "\"stash\" or a list of names", kFrom);
      into.from_stash = false;
      if (!in_.names(table, "from", kFrom, into.names)) return false;
    }
  }
  return true;
}

bool KitReader::range(const toml::table& root, std::string_view key, KitRange& into, bool stocks) {
  const toml::node* node = root.get(key);
  if (node == nullptr) return true;
  const std::string owner = "[" + std::string(key) + "]";
  const auto* table = node->as_table();
  if (table == nullptr) return in_.wrong_kind(*node, key, "a section", owner + " on a line of its own");
  in_.warn_unknown(
      *table, owner,
      stocks ? std::vector<std::string>{"base", "from", "choose", "must", "never", "sheet", "grain"}
             : std::vector<std::string>{"from", "choose", "must", "never", "price", "budget", "pads"});
  if (!from(*table, into)) return false;
  if (!in_.whole(*table, "choose", 1, kMostChosen, "choose = 4", into.choose)) return false;
  if (!in_.names(*table, "must", "must = [\"Pitch Black\"]", into.must)) return false;
  if (!in_.names(*table, "never", "never = [\"Wet Sand\"]", into.never)) return false;
  for (const std::string& name : into.must) {
    if (std::find(into.never.begin(), into.never.end(), name) != into.never.end())
      return in_.fault(*table->get("never"), "'" + name + "' is in both 'must' and 'never'",
                       "take it out of one");
  }
  if (!stocks) {
    std::string pads = "one";
    if (!in_.word(*table, "pads", {"one", "each"}, pads)) return false;
    kit_.pad_each = pads == "each";
    return in_.cents(*table, "price", kit_.ink_cents) && in_.cents(*table, "budget", kit_.ink_budget_cents);
  }
  if (!read_grain(in_, *table, kit_.stock_grain)) return false;
  return in_.names(*table, "base", "base = [\"Sailcloth\"]", kit_.base) &&
         in_.size(*table, "sheet", "sheet = \"12 x 12 in\"", kit_.stock_sheet);
}

bool KitReader::colour(const toml::node& node, bool first, KitColour& into) {
  constexpr std::string_view kExample =
      "colours = [{ colour = \"lab(52 43 21)\", share = 0.4, role = \"motif\" }]";
  into.role = first ? "ground" : "motif";
  std::string literal;
  const toml::node* at = &node;
  if (node.is_string()) {
    if (!in_.checked_name(node, "colours", kExample, literal)) return false;
  } else {
    const auto* table = node.as_table();
    if (table == nullptr) return in_.wrong_kind(node, "colours", "a list of colours", kExample);
    in_.warn_unknown(*table, "colours", {"colour", "share", "role"});
    at = table->get("colour");
    if (at == nullptr)
      return in_.fault(node, "an entry of 'colours' has no 'colour'", "write " + std::string(kExample));
    if (!in_.checked_name(*at, "colour", "colour = \"lab(52 43 21)\"", literal)) return false;
    if (const toml::node* share = table->get("share")) {
      const auto value = share->value<double>();
      if (!share->is_number() || !value)
        return in_.wrong_kind(*share, "share", "a number from 0 to 1", "share = 0.4");
      if (!(*value >= 0.0 && *value <= 1.0))
        return in_.fault(*share, "'share' is out of range",
                         "write a part of the face from 0 to 1, such as share = 0.4");
      into.share = *value;
    }
    if (!in_.text(*table, "role", "role = \"motif\"", into.role)) return false;
    if (into.role != "ground" && into.role != "motif" && into.role != "accent")
      return in_.fault(*table->get("role"), "no such role: " + into.role,
                       "write \"ground\", \"motif\" or \"accent\"");
  }
  const Result<Lab> lab = lab_from_css(literal);
  if (!lab)
    return in_.fault(*at, lab.error().what,
                     lab.error().advice.empty() ? "write lab(52 43 21) or #c8553d" : lab.error().advice);
  into.lab = *lab;
  return true;
}

bool KitReader::colours(const toml::table& table, KitFace& into) {
  constexpr std::string_view kExample = "colours = [\"lab(52 43 21)\", \"#f2efe6\"]";
  const toml::node* node = table.get("colours");
  if (node == nullptr) return true;
  const auto* list = node->as_array();
  if (list == nullptr) return in_.wrong_kind(*node, "colours", "a list of colours", kExample);
  if (list->empty()) return in_.fault(*node, "'colours' is empty", "write " + std::string(kExample));
  if (list->size() > 64)
    return in_.fault(*node, "more than 64 colours for one face", "keep the ones that count");
  double sum = 0.0;
  for (const toml::node& item : *list) {
    KitColour one;
    if (!colour(item, into.colours.empty(), one)) return false;
    sum += one.share;
    into.colours.push_back(std::move(one));
  }
  if (sum > 1.01)
    return in_.fault(*node, "the shares of the face add up to " + fixed_number(sum, 2),
                     "make them add up to 1 at most");
  return true;
}

bool KitReader::face(const toml::table& table) {
  KitFace face;
  face.where = in_.place(table);
  in_.warn_unknown(table, "[[face]]",
                   {"label", "photo", "crop", "colours", "stocks", "inks", "sheet", "direction"});
  if (table.get("label") == nullptr)
    return in_.fault(table, "a face has no label", "write label = \"1A\" under [[face]]");
  if (!in_.text(table, "label", "label = \"1A\"", face.label)) return false;
  if (!labels_.insert(folded(face.label)).second)
    return in_.fault(*table.get("label"), "the label '" + face.label + "' stands twice",
                     "give every face its own label");
  if (!in_.text(table, "photo", "photo = \"photos/1a.jpg\"", face.photo)) return false;
  if (!in_.text(table, "crop", "crop = \"10%,10%,80%,80%\"", face.crop)) return false;
  if (!colours(table, face)) return false;
  if (!in_.names(table, "stocks", "stocks = [\"Wet Sand\"]", face.stocks)) return false;
  if (!in_.names(table, "inks", "inks = [\"Pitch Black\"]", face.inks)) return false;
  if (!in_.text(table, "sheet", "sheet = \"1\"", face.sheet)) return false;
  if (face.sheet.empty()) face.sheet = without_side(face.label);
  std::string direction;
  if (!in_.word(table, "direction", {"up", "any"}, direction)) return false;
  face.directional = direction == "up";
  if (face.photo.empty() && face.colours.empty())
    return in_.fault(table, "face '" + face.label + "' has neither a photo nor colours",
                     "write photo = \"photos/1a.jpg\" or colours = [\"lab(52 43 21)\"]");
  if (face.photo.empty() && !face.crop.empty())
    return in_.fault(*table.get("crop"), "face '" + face.label + "' has a crop but no photo",
                     "name the photo, or take the crop out");
  kit_.faces.push_back(std::move(face));
  return true;
}

bool KitReader::faces(const toml::table& root) {
  constexpr std::string_view kExample =
      "[[face]] on a line of its own, then label = \"1A\" and photo = \"photos/1a.jpg\"";
  if (root.get("face") == nullptr && root.get("card") == nullptr)
    return in_.fault(root, "the kit has no face", "write " + std::string(kExample));
  std::vector<const toml::table*> list;
  return in_.tables(root, "face", kMostFaces, kExample, list) &&
         std::all_of(list.begin(), list.end(), [&](const toml::table* one) { return face(*one); });
}

Result<Kit> KitReader::read(const toml::table& root) {
  in_.warn_unknown(root, "",
                   {"name", "date", "kits", "spares", "spoilage_percent", "page", "units", "bands", "pack",
                    "face", "inks", "stocks", "card", "portion", "supply", "strip"});
  const bool whole = head(root) && faces(root) && range(root, "inks", kit_.inks, false) &&
                     range(root, "stocks", kit_.stocks, true) && read_cards(in_, root, kit_);
  if (!whole) return *in_.error();
  kit_.warnings = std::move(in_.warnings());
  return std::move(kit_);
}

/// What makes a file no text at all, found before any parsing.
MaybeError not_text(std::string_view toml, const std::string& name) {
  if (toml.size() > kMostKitBytes)
    return Error{ErrorKind::bad_input, "too large for a kit file: over 1 MB", name + ":1",
                 "is this the right file?"};
  std::size_t number = 0;
  for (const std::string_view line : split(toml, '\n')) {
    const std::string where = name + ":" + std::to_string(++number);
    if (line.find('\0') != std::string_view::npos)
      return Error{ErrorKind::bad_input, "this is not a text file", where,
                   "a kit file is plain text: see 'kithue help sheet'"};
    if (!is_utf8(line))
      return Error{ErrorKind::bad_input, "this is not UTF-8 text", where, "save the file as UTF-8"};
  }
  if (const auto line = too_deep_at(toml))
    return Error{ErrorKind::bad_input, "brackets or dotted keys go too deep for a kit file",
                 name + ":" + std::to_string(*line), "a kit needs no more than a list of tables"};
  return std::nullopt;
}

}  // namespace

Result<Kit> parse_kit(std::string_view toml, const std::string& name) {
  if (MaybeError error = not_text(toml, name)) return *error;
  try {
    const toml::table root = toml::parse(toml, name);
    return KitReader(name).read(root);
  } catch (const toml::parse_error& fault) {
    std::string what(fault.description());
    what = what.substr(0, std::min(what.find('\n'), std::size_t{200}));
    return Error{ErrorKind::bad_input, what,
                 name + ":" + std::to_string(fault.source().begin.line) + ":" +
                     std::to_string(fault.source().begin.column),
                 "text stands in quotes, as in name = \"Harbour Morning\""};
  } catch (const std::exception& fault) {
    return Error{ErrorKind::bad_input, std::string("cannot be read as TOML: ") + fault.what(), name, ""};
  }
}

}  // namespace kithue
