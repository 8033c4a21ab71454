// SPDX-License-Identifier: MIT
#include "swatch/condition.h"

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

}  // namespace kithue
