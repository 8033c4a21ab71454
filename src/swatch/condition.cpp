// SPDX-License-Identifier: MIT
#include "swatch/condition.h"

#include <map>
#include <set>

#include "base/text.h"
#include "swatch/import_facts.h"

namespace kithue {
namespace {

struct Ways {
  std::set<std::string> modes;
  bool wet = false;
  bool not_wet = false;
};

Ways ways_of(const Swatch& swatch) {
  Ways ways;
  for (const Reading* reading : own_readings(swatch)) {
    const std::string mode(mode_of(reading->condition));
    if (!mode.empty()) ways.modes.insert(mode);
    (reading->dryness == Dryness::wet ? ways.wet : ways.not_wet) = true;
  }
  return ways;
}

/// "Wet Sand, Net Cord and 4 more".
std::string some_of(const std::vector<std::string>& names) {
  constexpr std::size_t kShown = 3;
  if (names.size() <= kShown) return joined(names, ", ");
  return joined({names.begin(), names.begin() + kShown}, ", ") + " and " +
         std::to_string(names.size() - kShown) + " more";
}

std::string listed(const std::set<std::string>& modes) {
  return joined({modes.begin(), modes.end()}, " and ");
}

}  // namespace

std::vector<std::string> comparison_cautions(const Swatch& x, const Swatch& y) {
  const Ways one = ways_of(x);
  const Ways other = ways_of(y);
  const bool same = &x == &y;
  std::vector<std::string> cautions;
  if (same ? one.modes.size() > 1 : !one.modes.empty() && !other.modes.empty() && one.modes != other.modes) {
    cautions.push_back((same ? x.name + " has readings under " + listed(one.modes)
                             : x.name + " was read under " + listed(one.modes) + ", " + y.name + " under " +
                                   listed(other.modes)) +
                       ": brightened papers differ between them; read both under one condition");
  }
  if (same ? one.wet && one.not_wet : (one.wet && other.not_wet) || (one.not_wet && other.wet)) {
    cautions.push_back(
        (same ? x.name + " has readings made wet and others not"
              : (one.wet ? x.name : y.name) + " was read wet, " + (one.wet ? y.name : x.name) + " not") +
        ": inks change as they dry; read both dry");
  }
  return cautions;
}

std::vector<std::string> mixed_cautions(const std::vector<const Swatch*>& compared, bool others) {
  std::map<std::string, std::vector<std::string>> by_mode;
  std::vector<std::string> wet;
  bool not_wet = others;
  std::set<const Swatch*> seen;
  for (const Swatch* swatch : compared) {
    if (swatch == nullptr || !seen.insert(swatch).second) continue;
    const Ways ways = ways_of(*swatch);
    for (const std::string& mode : ways.modes) by_mode[mode].push_back(swatch->name);
    if (ways.wet) wet.push_back(swatch->name);
    not_wet = not_wet || ways.not_wet;
  }
  std::vector<std::string> cautions;
  if (by_mode.size() > 1) {
    std::vector<std::string> parts;
    for (const auto& [mode, names] : by_mode) parts.push_back(mode + ": " + some_of(names));
    cautions.push_back("read under " + joined(parts, "; ") +
                       ": brightened papers differ between them; read all under one condition");
  }
  if (!wet.empty() && not_wet)
    cautions.push_back("read wet: " + some_of(wet) +
                       ", the others not: inks change as they dry; read all dry");
  return cautions;
}

}  // namespace kithue
