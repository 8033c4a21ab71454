// SPDX-License-Identifier: MIT
#include "advise/standin.h"

#include <algorithm>

#include "advise/assignment.h"
#include "advise/clash.h"
#include "advise/words.h"
#include "colour/difference_batch.h"

namespace kithue {
namespace {

bool same_colour(const NamedColour& x, const NamedColour& y) {
  return x.swatch != nullptr ? x.swatch == y.swatch : x.name == y.name && x.lab == y.lab;
}

/// Kit colours that clash with the stand-in although they went with what it replaces.
std::vector<std::string> new_clashes(const NamedColour& standin, const NamedColour& missing,
                                     const std::vector<NamedColour>& kit, const Bands& bands) {
  std::vector<std::string> names;
  for (const NamedColour& other : kit) {
    if (same_colour(other, missing) || same_colour(other, standin)) continue;
    if (!is_clash(judge(standin, other, bands).verdict)) continue;
    if (!is_clash(judge(missing, other, bands).verdict)) names.push_back(other.name);
  }
  return names;
}

MatchOptions match_options(const NamedColour& missing, const StandInOptions& options) {
  MatchOptions how;
  how.count = options.count;
  how.kind = options.kind;
  if (!how.kind && missing.swatch != nullptr) how.kind = missing.swatch->kind;
  return how;
}

Match match_of(const NamedColour& missing, const NamedColour& offered, const Bands& bands) {
  const Judgement judged = judge(missing, offered, bands);
  return {offered.swatch,     offered.lab,    judged.terms.de00,
          judged.uncertainty, judged.verdict, difference_words(missing.lab, offered.lab)};
}

/// What a range offers, by name then id, so that ties always fall the same way.
std::vector<NamedColour> offered_by(const Stash& range, const std::optional<Kind>& kind,
                                    const std::vector<NamedColour>& missing) {
  std::vector<NamedColour> offered;
  for (const Swatch& swatch : range.swatches) {
    if (swatch.retired || !swatch.in_stock || (kind && swatch.kind != *kind)) continue;
    const bool gone = std::any_of(missing.begin(), missing.end(),
                                  [&](const NamedColour& one) { return one.swatch == &swatch; });
    if (gone) continue;
    if (auto colour = named_colour_of(swatch)) offered.push_back(*std::move(colour));
  }
  std::stable_sort(offered.begin(), offered.end(), [](const NamedColour& x, const NamedColour& y) {
    return x.name != y.name ? x.name < y.name : x.swatch->id < y.swatch->id;
  });
  return offered;
}

LabColumns columns_of(const std::vector<NamedColour>& colours) {
  std::vector<Lab> labs;
  labs.reserve(colours.size());
  for (const NamedColour& colour : colours) labs.push_back(colour.lab);
  return LabColumns(labs);
}

}  // namespace

std::vector<StandIn> stand_ins(const Stash& stash, const NamedColour& missing,
                               const std::vector<NamedColour>& kit, const StandInOptions& options,
                               const Bands& bands) {
  std::vector<StandIn> found;
  for (Match& match : nearest_swatches(stash, missing, match_options(missing, options), bands)) {
    const NamedColour standin{match.swatch->name, match.lab, uncertainty_of(*match.swatch), match.swatch};
    const bool good = match.de00 <= options.limit;
    found.push_back({std::move(match), new_clashes(standin, missing, kit, bands), good});
  }
  return found;
}

std::vector<std::optional<StandIn>> stand_ins_one_to_one(const Stash& range,
                                                         const std::vector<NamedColour>& missing,
                                                         const std::vector<NamedColour>& kit,
                                                         const StandInOptions& options, const Bands& bands) {
  const std::vector<NamedColour> offered = offered_by(range, options.kind, missing);
  CostTable table{missing.size(), offered.size(), std::vector<double>(missing.size() * offered.size())};
  ciede2000_matrix(columns_of(missing), columns_of(offered), table.cost);
  const std::vector<std::size_t> chosen = best_assignment(table);
  std::vector<std::optional<StandIn>> answer;
  for (std::size_t i = 0; i < missing.size(); ++i) {
    if (chosen[i] == kUnassigned) {
      answer.emplace_back();
      continue;
    }
    // The kit as the student would see it: the other missing colours already replaced.
    std::vector<NamedColour> around;
    for (const NamedColour& colour : kit) {
      const bool replaced = std::any_of(missing.begin(), missing.end(),
                                        [&](const NamedColour& gone) { return same_colour(colour, gone); });
      if (!replaced) around.push_back(colour);
    }
    for (std::size_t k = 0; k < missing.size(); ++k) {
      if (k != i && chosen[k] != kUnassigned) around.push_back(offered[chosen[k]]);
    }
    const NamedColour& standin = offered[chosen[i]];
    StandIn one;
    one.match = match_of(missing[i], standin, bands);
    one.near_misses = new_clashes(standin, missing[i], around, bands);
    one.good = one.match.de00 <= options.limit;
    answer.push_back(std::move(one));
  }
  return answer;
}

}  // namespace kithue
