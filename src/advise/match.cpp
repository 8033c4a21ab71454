// SPDX-License-Identifier: MIT
#include "advise/match.h"

#include <algorithm>

#include "advise/clash.h"
#include "advise/words.h"
#include "colour/difference_batch.h"

namespace kithue {
namespace {

bool is_offered(const Swatch& swatch, const NamedColour& wanted, const MatchOptions& options) {
  if (&swatch == wanted.swatch) return false;
  if (options.kind && swatch.kind != *options.kind) return false;
  return options.with_retired || (!swatch.retired && swatch.in_stock);
}

bool nearer(const Match& x, const Match& y) {
  if (x.de00 != y.de00) return x.de00 < y.de00;
  if (x.swatch->name != y.swatch->name) return x.swatch->name < y.swatch->name;
  return x.swatch->id < y.swatch->id;
}

}  // namespace

std::optional<NamedColour> named_colour_of(const Swatch& swatch) {
  const std::optional<Lab> lab = colour_of(swatch);
  if (!lab) return std::nullopt;
  return NamedColour{swatch.name, *lab, uncertainty_of(swatch), &swatch};
}

std::vector<Match> nearest_swatches(const Stash& stash, const NamedColour& wanted,
                                    const MatchOptions& options, const Bands& bands) {
  std::vector<Match> matches;
  std::vector<Lab> labs;
  for (const Swatch& swatch : stash.swatches) {
    if (!is_offered(swatch, wanted, options)) continue;
    const std::optional<Lab> lab = colour_of(swatch);
    if (!lab) continue;
    Match match;
    match.swatch = &swatch;
    match.lab = *lab;
    matches.push_back(std::move(match));
    labs.push_back(*lab);
  }
  std::vector<double> distances(labs.size());
  ciede2000_batch(wanted.lab, LabColumns(labs), distances);
  for (std::size_t i = 0; i < matches.size(); ++i) matches[i].de00 = distances[i];
  const std::size_t count = options.count == 0 ? matches.size() : std::min(options.count, matches.size());
  std::partial_sort(matches.begin(), matches.begin() + static_cast<std::ptrdiff_t>(count), matches.end(),
                    nearer);
  matches.resize(count);
  for (Match& match : matches) {
    const Judgement judged =
        judge(wanted, {match.swatch->name, match.lab, uncertainty_of(*match.swatch), match.swatch}, bands);
    match.de00 = judged.terms.de00;
    match.verdict = judged.verdict;
    match.uncertainty = judged.uncertainty;
    match.words = difference_words(wanted.lab, match.lab, judged.terms);
  }
  std::stable_sort(matches.begin(), matches.end(), nearer);
  return matches;
}

std::vector<const Swatch*> left_out_of_match(const Stash& stash, const NamedColour& wanted,
                                             const MatchOptions& options) {
  std::vector<const Swatch*> out;
  for (const Swatch& swatch : stash.swatches) {
    if (is_offered(swatch, wanted, options) && !colour_of(swatch)) out.push_back(&swatch);
  }
  return out;
}

}  // namespace kithue
