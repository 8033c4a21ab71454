// SPDX-License-Identifier: MIT
#include "swatch/import_columns.h"

#include <algorithm>
#include <array>
#include <utility>

#include "base/text.h"
#include "swatch/import_facts.h"
#include "swatch/import_spectral.h"

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
    Spelling{"x", Role::X},
    Spelling{"ciex", Role::X},
    Spelling{"xyzx", Role::X},
    Spelling{"y", Role::Y},
    Spelling{"ciey", Role::Y},
    Spelling{"xyzy", Role::Y},
    Spelling{"z", Role::Z},
    Spelling{"ciez", Role::Z},
    Spelling{"xyzz", Role::Z},
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
    Spelling{"sampleloc", Role::name},
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
    Spelling{"mcondition", Role::condition},
    Spelling{"backing", Role::backing},
    Spelling{"samplebacking", Role::backing},
    Spelling{"geometry", Role::geometry},
    Spelling{"measurementgeometry", Role::geometry},
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

/// "L*(D65/10)" as "L*" and "D65/10"; all of it and nothing where no bracket closes the name.
std::pair<std::string_view, std::string_view> without_brackets(std::string_view name) {
  name = trimmed(name);
  if (!name.ends_with(')') && !name.ends_with(']')) return {name, {}};
  const auto open = name.find_last_of("([");
  if (open == std::string_view::npos || open == 0) return {name, {}};
  return {name.substr(0, open), name.substr(open + 1, name.size() - open - 2)};
}

bool is_number_role(Role role) {
  return role == Role::L || role == Role::a || role == Role::b || role == Role::X || role == Role::Y ||
         role == Role::Z;
}

/// Columns that are wavelengths: named so, or at least five bare numbers that rise from 300 to 1100.
void find_spectral(Columns& columns) {
  std::vector<std::size_t> bare;
  double before = 300.0 - 1e-9;
  for (std::size_t i = 0; i < columns.names.size(); ++i) {
    if (wavelength_in(columns.names[i])) {
      columns.roles[i] = Role::spectral;
      continue;
    }
    const auto number = parse_number(trimmed(columns.names[i]));
    if (!number || *number <= before || *number > 1100.0) continue;
    before = *number;
    bare.push_back(i);
  }
  if (bare.size() < 5) return;
  for (const std::size_t i : bare) columns.roles[i] = Role::spectral;
}

/// Small x, y beside capital X, Y, Z are chromaticities, which say nothing new.
bool is_chromaticity(const std::vector<std::string>& names, std::size_t i) {
  const std::string_view name = trimmed(names[i]);
  return (name == "x" || name == "y" || name == "z") &&
         std::any_of(names.begin(), names.end(), [](const std::string& other) {
           const std::string_view upper = trimmed(other);
           return upper == "X" || upper == "Y" || upper == "Z";
         });
}

/// Keeps the white in the brackets of a name; two different ones cannot both be meant.
void note_white(Columns& columns, const std::string& name) {
  const auto white = white_in_brackets(without_brackets(name).second);
  if (!white) return;
  if (!columns.white.empty() && columns.white != *white && columns.clash.empty())
    columns.clash = columns.white + " and " + *white;
  columns.white = *white;
}

}  // namespace

std::vector<std::size_t> Columns::all(Role role) const {
  std::vector<std::size_t> found;
  for (std::size_t i = 0; i < roles.size(); ++i) {
    if (roles[i] == role) found.push_back(i);
  }
  return found;
}

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
  for (const std::string& name : names) keys.push_back(key_of(without_brackets(name).first));
  std::vector<bool> taken(static_cast<std::size_t>(Role::other) + 1, false);
  for (const Spelling& spelling : kSpellings) {
    for (std::size_t i = 0; i < keys.size(); ++i) {
      if (keys[i] != spelling.key || is_chromaticity(names, i)) continue;
      const auto role = static_cast<std::size_t>(spelling.role);
      if (taken[role]) {
        // Two names fit: the better one is kept. Two sets of numbers cannot be told apart.
        if (is_number_role(spelling.role) && columns.clash.empty())
          columns.clash = names[*columns.at(spelling.role)] + " and " + names[i];
        continue;
      }
      taken[role] = true;
      columns.roles[i] = spelling.role;
      if (is_number_role(spelling.role)) note_white(columns, names[i]);
    }
  }
  columns.names = std::move(names);
  find_spectral(columns);
  return columns;
}

}  // namespace kithue
