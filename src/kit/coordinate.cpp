// SPDX-License-Identifier: MIT
#include "kit/coordinate.h"

#include <algorithm>

#include "advise/match.h"
#include "kit/touching.h"

namespace kithue {
namespace {

bool holds(const std::vector<const Swatch*>& list, const Swatch* swatch) {
  return std::find(list.begin(), list.end(), swatch) != list.end();
}

/// Ground, first motif, first accent, then the rest as they come.
std::vector<std::size_t> by_weight(const std::vector<KitColour>& colours) {
  std::vector<std::size_t> order;
  for (const std::string_view role : {"ground", "motif", "accent"}) {
    const auto at = std::find_if(colours.begin(), colours.end(),
                                 [&](const KitColour& colour) { return colour.role == role; });
    if (at != colours.end()) order.push_back(static_cast<std::size_t>(at - colours.begin()));
  }
  for (std::size_t i = 0; i < colours.size(); ++i) {
    if (std::find(order.begin(), order.end(), i) == order.end()) order.push_back(i);
  }
  return order;
}

}  // namespace

Result<InPlay> in_play(const Stash& stash, const KitRange& range, Kind kind, const std::string& where) {
  std::vector<const Swatch*> never;
  for (const std::string& name : range.never) {
    const auto swatch = swatch_of_kind(stash, name, kind, where);
    if (!swatch) return swatch.error();
    never.push_back(*swatch);
  }
  std::vector<const Swatch*> wanted;
  for (const std::string& name : range.names) {
    const auto swatch = swatch_of_kind(stash, name, kind, where);
    if (!swatch) return swatch.error();
    wanted.push_back(*swatch);
  }
  InPlay play;
  for (const Swatch& swatch : stash.swatches) {
    const bool in =
        range.from_stash ? swatch.kind == kind && !swatch.retired && swatch.in_stock : holds(wanted, &swatch);
    if (in && !holds(never, &swatch)) play.swatches.push_back(&swatch);
  }
  return play;
}

Result<std::vector<Coordinate>> named_coordinates(const Stash& stash, const std::vector<std::string>& names,
                                                  Kind kind, const std::string& where) {
  std::vector<Coordinate> list;
  for (const std::string& name : names) {
    const auto swatch = swatch_of_kind(stash, name, kind, where);
    if (!swatch) return swatch.error();
    Coordinate one;
    one.swatch = *swatch;
    one.named = true;
    list.push_back(one);
  }
  return list;
}

std::vector<Coordinate> found_coordinates(const Stash& stash, const InPlay& range,
                                          const std::vector<KitColour>& colours, Kind kind, std::size_t most,
                                          double limit) {
  std::vector<Coordinate> list;
  MatchOptions options;
  options.count = 0;
  options.kind = kind;
  options.with_retired = true;  // the range has already said which are in play
  for (const std::size_t index : by_weight(colours)) {
    if (list.size() >= most) break;
    if (kind == Kind::ink && colours.size() > 1 && colours[index].role == "ground") continue;
    for (const Match& match : nearest_swatches(stash, {"", colours[index].lab}, options)) {
      if (!holds(range.swatches, match.swatch)) continue;
      const Coordinate one{match.swatch, false, index, match.de00, match.words};
      const bool taken = std::any_of(list.begin(), list.end(),
                                     [&](const Coordinate& other) { return other.swatch == one.swatch; });
      if (one.de00 <= limit && !taken) list.push_back(one);
      break;
    }
  }
  return list;
}

std::vector<const Swatch*> strip_solids(const std::vector<Coordinate>& base,
                                        const std::vector<std::vector<Coordinate>>& faces) {
  std::vector<const Swatch*> solids;
  const auto add = [&](const std::vector<Coordinate>& list) {
    for (const Coordinate& one : list) {
      if (std::find(solids.begin(), solids.end(), one.swatch) == solids.end()) solids.push_back(one.swatch);
    }
  };
  add(base);
  for (const auto& face : faces) add(face);
  return solids;
}

}  // namespace kithue
