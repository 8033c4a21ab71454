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
  ColumnRole role;
};

/// Within a role, an earlier spelling wins over a later one.
constexpr std::array kSpellings{
    Spelling{"l", ColumnRole::L},
    Spelling{"ciel", ColumnRole::L},
    Spelling{"labl", ColumnRole::L},
    Spelling{"lstar", ColumnRole::L},
    Spelling{"cielabl", ColumnRole::L},
    Spelling{"ciell", ColumnRole::L},
    Spelling{"a", ColumnRole::a},
    Spelling{"ciea", ColumnRole::a},
    Spelling{"laba", ColumnRole::a},
    Spelling{"astar", ColumnRole::a},
    Spelling{"cielaba", ColumnRole::a},
    Spelling{"b", ColumnRole::b},
    Spelling{"cieb", ColumnRole::b},
    Spelling{"labb", ColumnRole::b},
    Spelling{"bstar", ColumnRole::b},
    Spelling{"cielabb", ColumnRole::b},
    Spelling{"x", ColumnRole::X},
    Spelling{"ciex", ColumnRole::X},
    Spelling{"xyzx", ColumnRole::X},
    Spelling{"y", ColumnRole::Y},
    Spelling{"ciey", ColumnRole::Y},
    Spelling{"xyzy", ColumnRole::Y},
    Spelling{"z", ColumnRole::Z},
    Spelling{"ciez", ColumnRole::Z},
    Spelling{"xyzz", ColumnRole::Z},
    Spelling{"name", ColumnRole::name},
    Spelling{"samplename", ColumnRole::name},
    Spelling{"swatch", ColumnRole::name},
    Spelling{"colour", ColumnRole::name},
    Spelling{"color", ColumnRole::name},
    Spelling{"colourname", ColumnRole::name},
    Spelling{"colorname", ColumnRole::name},
    Spelling{"sample", ColumnRole::name},
    Spelling{"label", ColumnRole::name},
    Spelling{"patch", ColumnRole::name},
    Spelling{"sampleid", ColumnRole::name},
    Spelling{"id", ColumnRole::name},
    Spelling{"sampleloc", ColumnRole::name},
    Spelling{"kind", ColumnRole::kind},
    Spelling{"method", ColumnRole::method},
    Spelling{"white", ColumnRole::white},
    Spelling{"whitepoint", ColumnRole::white},
    Spelling{"illuminantobserver", ColumnRole::white},
    Spelling{"illuminant", ColumnRole::illuminant},
    Spelling{"observer", ColumnRole::observer},
    Spelling{"observerangle", ColumnRole::observer},
    Spelling{"readingbatch", ColumnRole::batch},
    Spelling{"batch", ColumnRole::batch},
    Spelling{"lot", ColumnRole::batch},
    Spelling{"dyelot", ColumnRole::batch},
    Spelling{"date", ColumnRole::date},
    Spelling{"day", ColumnRole::date},
    Spelling{"measured", ColumnRole::date},
    Spelling{"source", ColumnRole::source},
    Spelling{"instrument", ColumnRole::source},
    Spelling{"device", ColumnRole::source},
    Spelling{"readingsurface", ColumnRole::surface},
    Spelling{"surface", ColumnRole::surface},
    Spelling{"on", ColumnRole::surface},
    Spelling{"substrate", ColumnRole::surface},
    Spelling{"condition", ColumnRole::condition},
    Spelling{"measurementcondition", ColumnRole::condition},
    Spelling{"mcondition", ColumnRole::condition},
    Spelling{"backing", ColumnRole::backing},
    Spelling{"samplebacking", ColumnRole::backing},
    Spelling{"geometry", ColumnRole::geometry},
    Spelling{"measurementgeometry", ColumnRole::geometry},
    Spelling{"readingnote", ColumnRole::note},
    Spelling{"note", ColumnRole::note},
    Spelling{"notes", ColumnRole::note},
    Spelling{"comment", ColumnRole::note},
    Spelling{"remarks", ColumnRole::note},
    Spelling{"finish", ColumnRole::finish},
    Spelling{"retired", ColumnRole::retired},
    Spelling{"instock", ColumnRole::in_stock},
    Spelling{"dryness", ColumnRole::dryness},
    Spelling{"errorde00", ColumnRole::error},
    Spelling{"swatchid", ColumnRole::swatch_id},
    Spelling{"shelfbatch", ColumnRole::shelf_batch},
    Spelling{"swatchsurface", ColumnRole::swatch_surface},
    Spelling{"swatchnote", ColumnRole::swatch_note},
    Spelling{"adapted", ColumnRole::adapted},
    Spelling{"startnm", ColumnRole::start_nm},
    Spelling{"stepnm", ColumnRole::step_nm},
    Spelling{"bands", ColumnRole::bands},
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

bool is_number_role(ColumnRole role) {
  return role == ColumnRole::L || role == ColumnRole::a || role == ColumnRole::b || role == ColumnRole::X ||
         role == ColumnRole::Y || role == ColumnRole::Z;
}

/// Columns that are wavelengths: named so, or at least five bare numbers that rise from 300 to 1100.
void find_spectral(Columns& columns) {
  std::vector<std::size_t> bare;
  double before = 300.0 - 1e-9;
  for (std::size_t i = 0; i < columns.names.size(); ++i) {
    if (wavelength_in(columns.names[i])) {
      columns.roles[i] = ColumnRole::spectral;
      continue;
    }
    const auto number = parse_number(trimmed(columns.names[i]));
    if (!number || *number <= before || *number > 1100.0) continue;
    before = *number;
    bare.push_back(i);
  }
  if (bare.size() < 5) return;
  for (const std::size_t i : bare) columns.roles[i] = ColumnRole::spectral;
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

std::vector<std::size_t> Columns::all(ColumnRole role) const {
  std::vector<std::size_t> found;
  for (std::size_t i = 0; i < roles.size(); ++i) {
    if (roles[i] == role) found.push_back(i);
  }
  return found;
}

std::optional<std::size_t> Columns::at(ColumnRole role) const {
  const auto found = std::find(roles.begin(), roles.end(), role);
  if (found == roles.end()) return std::nullopt;
  return static_cast<std::size_t>(found - roles.begin());
}

Columns columns_from(std::vector<std::string> names) {
  Columns columns;
  columns.roles.assign(names.size(), ColumnRole::other);
  std::vector<std::string> keys;
  keys.reserve(names.size());
  for (const std::string& name : names) keys.push_back(key_of(without_brackets(name).first));
  std::vector<bool> taken(static_cast<std::size_t>(ColumnRole::other) + 1, false);
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
