// SPDX-License-Identifier: MIT
#include "kit/kit.h"

#include <toml++/toml.h>

#include <algorithm>
#include <cmath>
#include <optional>
#include <set>

#include "base/text.h"
#include "colour/css.h"
#include "kit/toml_depth.h"

namespace kithue {
namespace {

constexpr std::size_t kMostNameBytes = 800;  // 200 code points of at most four bytes
constexpr int kMostKits = 100'000;
constexpr int kMostChosen = 100;
constexpr std::size_t kMostFaces = 1'000;
constexpr std::size_t kMostWarnings = 20;

std::string place_of(const std::string& name, const toml::source_position& at) {
  return name + ":" + std::to_string(at.line) + ":" + std::to_string(at.column);
}

bool has_control(std::string_view text) {
  return std::any_of(text.begin(), text.end(), [](char c) {
    const auto byte = static_cast<unsigned char>(c);
    return byte < 0x20 || byte == 0x7F;
  });
}

std::string kind_of(const toml::node& node) {
  switch (node.type()) {
    case toml::node_type::table:
      return "a table";
    case toml::node_type::array:
      return "a list";
    case toml::node_type::string:
      return "text";
    case toml::node_type::integer:
    case toml::node_type::floating_point:
      return "a number";
    case toml::node_type::boolean:
      return "true or false";
    case toml::node_type::date:
    case toml::node_type::time:
    case toml::node_type::date_time:
      return "a date or time";
    case toml::node_type::none:
      break;
  }
  return "nothing";
}

/// Walks the tree. The first fault is kept and ends the walk: every reader returns false after it.
class KitReader {
 public:
  explicit KitReader(std::string name) : name_(std::move(name)) {}
  Result<Kit> read(const toml::table& root);

 private:
  bool fault(const toml::node& at, std::string what, std::string advice) {
    if (!error_)
      error_ = {ErrorKind::bad_input, std::move(what), place_of(name_, at.source().begin), std::move(advice)};
    return false;
  }
  bool wrong_kind(const toml::node& node, std::string_view key, std::string_view wanted,
                  std::string_view example) {
    return fault(node, "'" + std::string(key) + "' must be " + std::string(wanted) + ", not " + kind_of(node),
                 "write " + std::string(example));
  }
  void warn_unknown(const toml::table& table, std::string_view owner, const std::vector<std::string>& known);

  bool text(const toml::table& table, std::string_view key, std::string_view example, std::string& into);
  bool whole(const toml::table& table, std::string_view key, int most, std::string_view example, int& into);
  bool names(const toml::table& table, std::string_view key, std::string_view example,
             std::vector<std::string>& into);
  bool checked_name(const toml::node& node, std::string_view key, std::string_view example,
                    std::string& into);
  bool head(const toml::table& root);
  bool date(const toml::table& root);
  bool range(const toml::table& root, std::string_view key, KitRange& into, bool with_base);
  bool faces(const toml::table& root);
  bool face(const toml::table& table);
  bool colours(const toml::table& table, KitFace& into);
  bool colour(const toml::node& node, bool first, KitColour& into);

  std::string name_;
  Kit kit_;
  std::set<std::string> labels_;
  std::optional<Error> error_;
};

void KitReader::warn_unknown(const toml::table& table, std::string_view owner,
                             const std::vector<std::string>& known) {
  for (const auto& [key, value] : table) {
    const std::string word(key.str());
    if (std::find(known.begin(), known.end(), word) != known.end()) continue;
    if (kit_.warnings.size() == kMostWarnings)
      return kit_.warnings.push_back("and more unknown keys, not listed");
    if (kit_.warnings.size() > kMostWarnings) return;
    std::string line = place_of(name_, key.source().begin) + ": unknown key '" + word + "'";
    if (!owner.empty()) line += " in " + std::string(owner);
    const auto near = near_spellings(word, known);
    line += near.empty() ? " is left out (known: " + joined(known, ", ") + ")"
                         : " is left out: did you mean " + joined(near, " or ") + "?";
    kit_.warnings.push_back(std::move(line));
  }
}

bool KitReader::checked_name(const toml::node& node, std::string_view key, std::string_view example,
                             std::string& into) {
  const auto* held = node.as_string();
  if (held == nullptr) return wrong_kind(node, key, "text in quotes", example);
  const std::string& value = held->get();
  if (has_control(value))
    return fault(node, "'" + std::string(key) + "' holds a line break or a control character",
                 "write it on one line");
  if (trimmed(value).empty())
    return fault(node, "'" + std::string(key) + "' is empty", "write " + std::string(example));
  if (value.size() > kMostNameBytes)
    return fault(node, "'" + std::string(key) + "' is longer than 200 letters", "shorten it");
  into = trimmed(value);
  return true;
}

bool KitReader::text(const toml::table& table, std::string_view key, std::string_view example,
                     std::string& into) {
  const toml::node* node = table.get(key);
  return node == nullptr || checked_name(*node, key, example, into);
}

bool KitReader::whole(const toml::table& table, std::string_view key, int most, std::string_view example,
                      int& into) {
  const toml::node* node = table.get(key);
  if (node == nullptr) return true;
  const auto* held = node->as_integer();
  if (held == nullptr) return wrong_kind(*node, key, "a whole number", example);
  if (held->get() < 1 || held->get() > most)
    return fault(*node, "'" + std::string(key) + "' is out of range: " + std::to_string(held->get()),
                 "write a whole number from 1 to " + std::to_string(most));
  into = static_cast<int>(held->get());
  return true;
}

bool KitReader::names(const toml::table& table, std::string_view key, std::string_view example,
                      std::vector<std::string>& into) {
  const toml::node* node = table.get(key);
  if (node == nullptr) return true;
  const auto* list = node->as_array();
  if (list == nullptr) return wrong_kind(*node, key, "a list of names", example);
  for (const toml::node& item : *list) {
    std::string name;
    if (!checked_name(item, key, example, name)) return false;
    if (std::find(into.begin(), into.end(), name) != into.end())
      return fault(item, "'" + name + "' stands twice in '" + std::string(key) + "'", "take one of them out");
    into.push_back(std::move(name));
  }
  return true;
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
  return checked_name(*node, "date", "date = \"November 2026\"", kit_.date);
}

bool KitReader::head(const toml::table& root) {
  const toml::node* name = root.get("name");
  if (name == nullptr)
    return fault(root, "the kit has no name", "write name = \"Harbour Morning\" at the top");
  if (!checked_name(*name, "name", "name = \"Harbour Morning\"", kit_.name)) return false;
  if (!whole(root, "kits", kMostKits, "kits = 24", kit_.kits)) return false;
  if (!text(root, "page", "page = \"A4\" or page = \"Letter\"", kit_.page)) return false;
  if (kit_.page.empty()) return date(root);
  const std::string page = folded(kit_.page);
  if (page != "a4" && page != "letter")
    return fault(*root.get("page"), "no such page size: " + kit_.page,
                 "write page = \"A4\" or page = \"Letter\"");
  kit_.page = page == "a4" ? "A4" : "Letter";
  return date(root);
}

bool KitReader::range(const toml::table& root, std::string_view key, KitRange& into, bool with_base) {
  const toml::node* node = root.get(key);
  if (node == nullptr) return true;
  const std::string owner = "[" + std::string(key) + "]";
  const auto* table = node->as_table();
  if (table == nullptr) return wrong_kind(*node, key, "a section", owner + " on a line of its own");
  std::vector<std::string> known{"from", "choose", "must", "never"};
  if (with_base) known.insert(known.begin(), "base");
  warn_unknown(*table, owner, known);
  constexpr std::string_view kFrom = "from = \"stash\" or from = [\"Wet Sand\", \"Gull\"]";
  if (const toml::node* from = table->get("from")) {
    if (const auto* word = from->as_string()) {
      if (word->get() != "stash")
        return fault(*from, "'from' does not know \"" + word->get() + "\"", "write " + std::string(kFrom));
    } else {
      if (!from->is_array()) return wrong_kind(*from, "from", "\"stash\" or a list of names", kFrom);
      into.from_stash = false;
      if (!names(*table, "from", kFrom, into.names)) return false;
    }
  }
  if (!whole(*table, "choose", kMostChosen, "choose = 4", into.choose)) return false;
  if (!names(*table, "must", "must = [\"Pitch Black\"]", into.must)) return false;
  if (!names(*table, "never", "never = [\"Wet Sand\"]", into.never)) return false;
  for (const std::string& name : into.must) {
    if (std::find(into.never.begin(), into.never.end(), name) != into.never.end())
      return fault(*table->get("never"), "'" + name + "' is in both 'must' and 'never'",
                   "take it out of one");
  }
  return !with_base || names(*table, "base", "base = [\"Sailcloth\"]", kit_.base);
}

bool KitReader::colour(const toml::node& node, bool first, KitColour& into) {
  constexpr std::string_view kExample =
      "colours = [{ colour = \"lab(52 43 21)\", share = 0.4, role = \"motif\" }]";
  into.role = first ? "ground" : "motif";
  std::string literal;
  const toml::node* at = &node;
  if (node.is_string()) {
    if (!checked_name(node, "colours", kExample, literal)) return false;
  } else {
    const auto* table = node.as_table();
    if (table == nullptr) return wrong_kind(node, "colours", "a list of colours", kExample);
    warn_unknown(*table, "colours", {"colour", "share", "role"});
    at = table->get("colour");
    if (at == nullptr)
      return fault(node, "an entry of 'colours' has no 'colour'", "write " + std::string(kExample));
    if (!checked_name(*at, "colour", "colour = \"lab(52 43 21)\"", literal)) return false;
    if (const toml::node* share = table->get("share")) {
      const auto value = share->value<double>();
      if (!share->is_number() || !value)
        return wrong_kind(*share, "share", "a number from 0 to 1", "share = 0.4");
      if (!(*value >= 0.0 && *value <= 1.0))
        return fault(*share, "'share' is out of range",
                     "write a part of the face from 0 to 1, such as share = 0.4");
      into.share = *value;
    }
    if (!text(*table, "role", "role = \"motif\"", into.role)) return false;
    if (into.role != "ground" && into.role != "motif" && into.role != "accent")
      return fault(*table->get("role"), "no such role: " + into.role,
                   "write \"ground\", \"motif\" or \"accent\"");
  }
  const Result<Lab> lab = lab_from_css(literal);
  if (!lab)
    return fault(*at, lab.error().what,
                 lab.error().advice.empty() ? "write lab(52 43 21) or #c8553d" : lab.error().advice);
  into.lab = *lab;
  return true;
}

bool KitReader::colours(const toml::table& table, KitFace& into) {
  constexpr std::string_view kExample = "colours = [\"lab(52 43 21)\", \"#f2efe6\"]";
  const toml::node* node = table.get("colours");
  if (node == nullptr) return true;
  const auto* list = node->as_array();
  if (list == nullptr) return wrong_kind(*node, "colours", "a list of colours", kExample);
  if (list->empty()) return fault(*node, "'colours' is empty", "write " + std::string(kExample));
  if (list->size() > 64) return fault(*node, "more than 64 colours for one face", "keep the ones that count");
  double sum = 0.0;
  for (const toml::node& item : *list) {
    KitColour one;
    if (!colour(item, into.colours.empty(), one)) return false;
    sum += one.share;
    into.colours.push_back(std::move(one));
  }
  if (sum > 1.01)
    return fault(*node, "the shares of the face add up to " + fixed_number(sum, 2),
                 "make them add up to 1 at most");
  return true;
}

bool KitReader::face(const toml::table& table) {
  KitFace face;
  face.where = place_of(name_, table.source().begin);
  warn_unknown(table, "[[face]]", {"label", "photo", "crop", "colours", "stocks", "inks"});
  if (table.get("label") == nullptr)
    return fault(table, "a face has no label", "write label = \"1A\" under [[face]]");
  if (!text(table, "label", "label = \"1A\"", face.label)) return false;
  if (!labels_.insert(folded(face.label)).second)
    return fault(*table.get("label"), "the label '" + face.label + "' stands twice",
                 "give every face its own label");
  if (!text(table, "photo", "photo = \"photos/1a.jpg\"", face.photo)) return false;
  if (!text(table, "crop", "crop = \"10%,10%,80%,80%\"", face.crop)) return false;
  if (!colours(table, face)) return false;
  if (!names(table, "stocks", "stocks = [\"Wet Sand\"]", face.stocks)) return false;
  if (!names(table, "inks", "inks = [\"Pitch Black\"]", face.inks)) return false;
  if (face.photo.empty() && face.colours.empty())
    return fault(table, "face '" + face.label + "' has neither a photo nor colours",
                 "write photo = \"photos/1a.jpg\" or colours = [\"lab(52 43 21)\"]");
  if (face.photo.empty() && !face.crop.empty())
    return fault(*table.get("crop"), "face '" + face.label + "' has a crop but no photo",
                 "name the photo, or take the crop out");
  kit_.faces.push_back(std::move(face));
  return true;
}

bool KitReader::faces(const toml::table& root) {
  constexpr std::string_view kExample =
      "[[face]] on a line of its own, then label = \"1A\" and photo = \"photos/1a.jpg\"";
  const toml::node* node = root.get("face");
  if (node == nullptr) return fault(root, "the kit has no face", "write " + std::string(kExample));
  const auto* list = node->as_array();
  if (list == nullptr || list->empty()) return wrong_kind(*node, "face", "a list of sections", kExample);
  if (list->size() > kMostFaces)
    return fault(*node, "more than " + std::to_string(kMostFaces) + " faces", "split the pack over two kits");
  for (const toml::node& item : *list) {
    const auto* table = item.as_table();
    if (table == nullptr) return wrong_kind(item, "face", "a section", kExample);
    if (!face(*table)) return false;
  }
  return true;
}

Result<Kit> KitReader::read(const toml::table& root) {
  warn_unknown(root, "", {"name", "date", "kits", "page", "face", "inks", "stocks"});
  if (head(root) && faces(root) && range(root, "inks", kit_.inks, false) &&
      range(root, "stocks", kit_.stocks, true))
    return std::move(kit_);
  return *error_;
}

/// What makes a file no text at all, found before any parsing.
MaybeError not_text(std::string_view toml, const std::string& name) {
  if (toml.size() > kMostKitBytes)
    return Error{ErrorKind::bad_input, "too large for a kit file: over 1 MB", name,
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
    return Error{ErrorKind::bad_input, what, place_of(name, fault.source().begin),
                 "text stands in quotes, as in name = \"Harbour Morning\""};
  } catch (const std::exception& fault) {
    return Error{ErrorKind::bad_input, std::string("cannot be read as TOML: ") + fault.what(), name, ""};
  }
}

}  // namespace kithue
