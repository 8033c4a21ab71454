// SPDX-License-Identifier: MIT
#include "kit/toml_reader.h"

#include <algorithm>
#include <cmath>

#include "base/text.h"

namespace kithue {
namespace {

constexpr std::size_t kMostNameBytes = 800;  // 200 code points of at most four bytes
constexpr std::size_t kMostWarnings = 20;
constexpr double kMostMoney = 1'000'000.0;

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

}  // namespace

std::string TomlReader::place(const toml::node& at) const {
  const toml::source_position& begin = at.source().begin;
  return name_ + ":" + std::to_string(begin.line) + ":" + std::to_string(begin.column);
}

bool TomlReader::fault(const toml::node& at, std::string what, std::string advice) {
  if (!error_) error_ = {ErrorKind::bad_input, std::move(what), place(at), std::move(advice)};
  return false;
}

bool TomlReader::wrong_kind(const toml::node& node, std::string_view key, std::string_view wanted,
                            std::string_view example) {
  return fault(node, "'" + std::string(key) + "' must be " + std::string(wanted) + ", not " + kind_of(node),
               "write " + std::string(example));
}

void TomlReader::warn_unknown(const toml::table& table, std::string_view owner,
                              const std::vector<std::string>& known) {
  for (const auto& [key, value] : table) {
    const std::string word(key.str());
    if (std::find(known.begin(), known.end(), word) != known.end()) continue;
    if (warnings_.size() == kMostWarnings) return warnings_.push_back("and more unknown keys, not listed");
    if (warnings_.size() > kMostWarnings) return;
    std::string line = name_ + ":" + std::to_string(key.source().begin.line) + ":" +
                       std::to_string(key.source().begin.column) + ": unknown key '" + word + "'";
    if (!owner.empty()) line += " in " + std::string(owner);
    const auto near = near_spellings(word, known);
    line += near.empty() ? " is left out (known: " + joined(known, ", ") + ")"
                         : " is left out: did you mean " + joined(near, " or ") + "?";
    warnings_.push_back(std::move(line));
  }
}

bool TomlReader::checked_name(const toml::node& node, std::string_view key, std::string_view example,
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

bool TomlReader::text(const toml::table& table, std::string_view key, std::string_view example,
                      std::string& into) {
  const toml::node* node = table.get(key);
  return node == nullptr || checked_name(*node, key, example, into);
}

bool TomlReader::word(const toml::table& table, std::string_view key, const std::vector<std::string>& words,
                      std::string& into) {
  const toml::node* node = table.get(key);
  if (node == nullptr) return true;
  std::vector<std::string> quoted;
  for (const std::string& one : words) quoted.push_back(std::string(key) + " = \"" + one + "\"");
  const std::string example = joined(quoted, " or ");
  std::string said;
  if (!checked_name(*node, key, example, said)) return false;
  const auto found = std::find_if(words.begin(), words.end(),
                                  [&](const std::string& one) { return folded(one) == folded(said); });
  if (found == words.end())
    return fault(*node, "'" + std::string(key) + "' does not know \"" + said + "\"", "write " + example);
  into = *found;
  return true;
}

bool TomlReader::whole(const toml::table& table, std::string_view key, int least, int most,
                       std::string_view example, int& into) {
  const toml::node* node = table.get(key);
  if (node == nullptr) return true;
  const auto* held = node->as_integer();
  if (held == nullptr) return wrong_kind(*node, key, "a whole number", example);
  if (held->get() < least || held->get() > most)
    return fault(*node, "'" + std::string(key) + "' is out of range: " + std::to_string(held->get()),
                 "write a whole number from " + std::to_string(least) + " to " + std::to_string(most));
  into = static_cast<int>(held->get());
  return true;
}

bool TomlReader::number(const toml::table& table, std::string_view key, double least, double most,
                        std::string_view example, double& into) {
  const toml::node* node = table.get(key);
  if (node == nullptr) return true;
  const auto value = node->value<double>();
  if (!node->is_number() || !value) return wrong_kind(*node, key, "a number", example);
  if (!(*value >= least && *value <= most))
    return fault(*node, "'" + std::string(key) + "' is out of range",
                 "write a number from " + exact_number(least) + " to " + exact_number(most) + ", as in " +
                     std::string(example));
  into = *value;
  return true;
}

bool TomlReader::yes_or_no(const toml::table& table, std::string_view key, bool& into) {
  const toml::node* node = table.get(key);
  if (node == nullptr) return true;
  const auto* held = node->as_boolean();
  if (held == nullptr) return wrong_kind(*node, key, "true or false", std::string(key) + " = true");
  into = held->get();
  return true;
}

bool TomlReader::names(const toml::table& table, std::string_view key, std::string_view example,
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

bool TomlReader::cents(const toml::table& table, std::string_view key, std::optional<std::int64_t>& into) {
  const std::string example = std::string(key) + " = 8.50";
  if (table.get(key) == nullptr) return true;
  double money = 0.0;
  if (!number(table, key, 0.0, kMostMoney, example, money)) return false;
  const double cents = money * 100.0;
  if (std::fabs(cents - std::round(cents)) > 1e-6)
    return fault(*table.get(key), "'" + std::string(key) + "' is not in whole cents", "write " + example);
  into = std::llround(cents);
  return true;
}

bool TomlReader::size(const toml::table& table, std::string_view key, std::string_view example,
                      std::optional<Size>& into) {
  const toml::node* node = table.get(key);
  if (node == nullptr) return true;
  std::string said;
  if (!checked_name(*node, key, example, said)) return false;
  const auto size = size_from(said);
  if (!size) return fault(*node, "'" + std::string(key) + "': " + size.error().what, size.error().advice);
  into = *size;
  return true;
}

bool TomlReader::lengths(const toml::table& table, std::string_view key, std::string_view example, bool many,
                         std::vector<Length>& into) {
  const toml::node* node = table.get(key);
  if (node == nullptr) return true;
  const auto one = [&](const toml::node& at) {
    std::string said;
    if (!checked_name(at, key, example, said)) return false;
    const auto length = length_from(said);
    if (!length)
      return fault(at, "'" + std::string(key) + "': " + length.error().what, length.error().advice);
    into.push_back(*length);
    return true;
  };
  const auto* list = node->as_array();
  if (list == nullptr || !many) return one(*node);
  return std::all_of(list->begin(), list->end(), one);
}

bool TomlReader::tables(const toml::table& table, std::string_view key, std::size_t most,
                        std::string_view example, std::vector<const toml::table*>& into) {
  const toml::node* node = table.get(key);
  if (node == nullptr) return true;
  const auto* list = node->as_array();
  if (list == nullptr || list->empty()) return wrong_kind(*node, key, "a list of sections", example);
  if (list->size() > most)
    return fault(*node, "more than " + std::to_string(most) + " of '" + std::string(key) + "'",
                 "split the kit in two");
  for (const toml::node& item : *list) {
    const auto* one = item.as_table();
    if (one == nullptr) return wrong_kind(item, key, "a section", example);
    into.push_back(one);
  }
  return true;
}

}  // namespace kithue
