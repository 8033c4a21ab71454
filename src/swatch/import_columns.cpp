// SPDX-License-Identifier: MIT
#include "swatch/import_columns.h"

#include <algorithm>
#include <array>
#include <cctype>

#include "base/text.h"
#include "colour/white.h"

namespace kithue {
namespace {

struct Spelling {
  std::string_view key;  ///< folded, letters and digits only
  Role role;
};

/// Within a role, an earlier spelling wins over a later one.
constexpr std::array kSpellings{
    Spelling{"l", Role::L},
    Spelling{"ciel", Role::L},
    Spelling{"labl", Role::L},
    Spelling{"lstar", Role::L},
    Spelling{"cielabl", Role::L},
    Spelling{"ciell", Role::L},
    Spelling{"a", Role::a},
    Spelling{"ciea", Role::a},
    Spelling{"laba", Role::a},
    Spelling{"astar", Role::a},
    Spelling{"cielaba", Role::a},
    Spelling{"b", Role::b},
    Spelling{"cieb", Role::b},
    Spelling{"labb", Role::b},
    Spelling{"bstar", Role::b},
    Spelling{"cielabb", Role::b},
    Spelling{"name", Role::name},
    Spelling{"samplename", Role::name},
    Spelling{"swatch", Role::name},
    Spelling{"colour", Role::name},
    Spelling{"color", Role::name},
    Spelling{"colourname", Role::name},
    Spelling{"colorname", Role::name},
    Spelling{"sample", Role::name},
    Spelling{"label", Role::name},
    Spelling{"patch", Role::name},
    Spelling{"sampleid", Role::name},
    Spelling{"id", Role::name},
    Spelling{"kind", Role::kind},
    Spelling{"method", Role::method},
    Spelling{"white", Role::white},
    Spelling{"whitepoint", Role::white},
    Spelling{"illuminantobserver", Role::white},
    Spelling{"illuminant", Role::illuminant},
    Spelling{"observer", Role::observer},
    Spelling{"observerangle", Role::observer},
    Spelling{"readingbatch", Role::batch},
    Spelling{"batch", Role::batch},
    Spelling{"lot", Role::batch},
    Spelling{"dyelot", Role::batch},
    Spelling{"date", Role::date},
    Spelling{"day", Role::date},
    Spelling{"measured", Role::date},
    Spelling{"source", Role::source},
    Spelling{"instrument", Role::source},
    Spelling{"device", Role::source},
    Spelling{"readingsurface", Role::surface},
    Spelling{"surface", Role::surface},
    Spelling{"on", Role::surface},
    Spelling{"substrate", Role::surface},
    Spelling{"condition", Role::condition},
    Spelling{"measurementcondition", Role::condition},
    Spelling{"readingnote", Role::note},
    Spelling{"note", Role::note},
    Spelling{"notes", Role::note},
    Spelling{"comment", Role::note},
    Spelling{"remarks", Role::note},
    Spelling{"finish", Role::finish},
    Spelling{"retired", Role::retired},
    Spelling{"instock", Role::in_stock},
    Spelling{"dryness", Role::dryness},
    Spelling{"errorde00", Role::error},
    Spelling{"swatchid", Role::swatch_id},
    Spelling{"shelfbatch", Role::shelf_batch},
    Spelling{"swatchsurface", Role::swatch_surface},
    Spelling{"swatchnote", Role::swatch_note},
    Spelling{"adapted", Role::adapted},
    Spelling{"startnm", Role::start_nm},
    Spelling{"stepnm", Role::step_nm},
    Spelling{"bands", Role::bands},
};

std::string key_of(std::string_view name) {
  std::string key;
  for (const char c : folded(name)) {
    if ((c >= 'a' && c <= 'z') || (c >= '0' && c <= '9')) key += c;
  }
  return key;
}

/// "SPECTRAL_NM400", "nm400", "SPEC_400", "SPECTRAL_403.3", "400nm".
bool is_spectral(std::string_view name) {
  const std::string text = folded(name);
  const std::string key = key_of(name);
  const auto digits = std::count_if(key.begin(), key.end(), [](char c) { return c >= '0' && c <= '9'; });
  if (digits < 3) return false;
  return text.starts_with("spectral") || text.starts_with("spec_") || text.starts_with("nm") ||
         text.ends_with("nm");
}

bool is_number_role(Role role) {
  return role == Role::L || role == Role::a || role == Role::b;
}

}  // namespace

std::optional<std::size_t> Columns::at(Role role) const {
  const auto found = std::find(roles.begin(), roles.end(), role);
  if (found == roles.end()) return std::nullopt;
  return static_cast<std::size_t>(found - roles.begin());
}

Columns columns_from(std::vector<std::string> names) {
  Columns columns;
  columns.roles.assign(names.size(), Role::other);
  std::vector<std::string> keys;
  keys.reserve(names.size());
  for (const std::string& name : names) keys.push_back(key_of(name));
  for (std::size_t i = 0; i < names.size(); ++i) {
    if (is_spectral(names[i])) columns.roles[i] = Role::spectral;
  }
  std::vector<bool> taken(static_cast<std::size_t>(Role::other) + 1, false);
  for (const Spelling& spelling : kSpellings) {
    for (std::size_t i = 0; i < keys.size(); ++i) {
      if (keys[i] != spelling.key) continue;
      const auto role = static_cast<std::size_t>(spelling.role);
      if (taken[role]) {
        // Two names fit: the better one is kept. Two sets of numbers cannot be told apart.
        if (is_number_role(spelling.role) && columns.clash.empty())
          columns.clash = names[*columns.at(spelling.role)] + " and " + names[i];
        continue;
      }
      taken[role] = true;
      columns.roles[i] = spelling.role;
    }
  }
  columns.names = std::move(names);
  return columns;
}

std::optional<std::string> white_in_text(std::string_view given) {
  std::string text;
  for (const char c : folded(given)) {
    const bool word = (c >= 'a' && c <= 'z') || (c >= '0' && c <= '9');
    text += word ? c : ' ';
  }
  std::string illuminant;
  std::string observer;
  std::string before;
  for (const std::string_view part : split(text, ' ')) {
    if (part.empty()) continue;
    const std::string word(part);
    const bool named = before == "illuminant";
    if (word.size() == 3 && word[0] == 'd' && std::isdigit(static_cast<unsigned char>(word[1])) != 0)
      illuminant = word;
    if (named && illuminant.empty() && find_white(word + "/2")) illuminant = word;
    const bool degrees = word.starts_with("deg");
    if (degrees && (before == "2" || before == "10")) observer = before;
    if ((before == "observer" || before == "angle") && (word == "2" || word == "10")) observer = word;
    if (word == "2deg" || word == "10deg") observer = word.substr(0, word.size() - 3);
    before = word;
  }
  if (illuminant.empty() || observer.empty()) return std::nullopt;
  const auto white = find_white(illuminant + "/" + observer);
  if (!white) return std::nullopt;
  return std::string(white->name);
}

}  // namespace kithue
