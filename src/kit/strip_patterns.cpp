// SPDX-License-Identifier: MIT
#include "kit/strip_patterns.h"

#include <algorithm>
#include <array>

namespace kithue {
namespace {

constexpr std::size_t kMostFillStates = 200;
constexpr int kMostOffcuts = 3;  // offcuts of offcuts of offcuts

/// What may be put along a line again and again.
struct Item {
  std::int64_t length = 0;
  double worth = 0.0;
  std::int64_t most = 0;
};

/// How often to take each item so that the lengths fit into `room` and the worth is large: exact but for the
/// number of states that are kept.
std::vector<std::int64_t> best_fill(std::int64_t room, const std::vector<Item>& items) {
  struct State {
    std::int64_t length = 0;
    double worth = 0.0;
    std::size_t before = 0;
    std::size_t item = 0;
    std::int64_t copies = 0;
  };
  std::vector<State> all{{}};
  std::vector<std::size_t> front{0};  // by length, worth rising with it: none that is longer and worth less
  std::vector<std::size_t> merged;
  const auto take = [&](std::size_t item, std::int64_t copies) {
    const std::int64_t length = copies * items[item].length;
    const double worth = static_cast<double>(copies) * items[item].worth;
    merged.clear();
    const auto keep = [&](std::size_t at) {
      if (merged.empty() || all[at].worth > all[merged.back()].worth) merged.push_back(at);
    };
    std::size_t old = 0;
    for (const std::size_t at : front) {
      const State grown{all[at].length + length, all[at].worth + worth, at, item, copies};
      if (grown.length > room) break;
      for (; old < front.size() && all[front[old]].length < grown.length; ++old) keep(front[old]);
      // Of two as long the one worth more comes first.
      if (old < front.size() && all[front[old]].length == grown.length &&
          all[front[old]].worth >= grown.worth)
        keep(front[old++]);
      if (all[merged.back()].worth >= grown.worth) continue;
      all.push_back(grown);
      keep(all.size() - 1);
    }
    for (; old < front.size(); ++old) keep(front[old]);
    front.swap(merged);
    if (front.size() > kMostFillStates)  // the most valuable are the last
      front.erase(front.begin() + 1, front.end() - static_cast<std::ptrdiff_t>(kMostFillStates));
  };
  // Copies in parts of 1, 2, 4 ... and the rest make up every number.
  for (std::size_t i = 0; i < items.size(); ++i) {
    std::int64_t rest = items[i].worth > 0.0 ? std::min(items[i].most, room / items[i].length) : 0;
    for (std::int64_t part = 1; rest > 0; part *= 2) {
      take(i, std::min(part, rest));
      rest -= std::min(part, rest);
    }
  }
  std::vector<std::int64_t> taken(items.size(), 0);
  for (std::size_t at = front.back(); at != 0; at = all[at].before) taken[all[at].item] += all[at].copies;
  return taken;
}

class Filler {
 public:
  Filler(const std::vector<PieceKind>& kinds, const std::vector<double>& worth,
         const std::vector<std::int64_t>& most, Blocks& blocks)
      : kinds_(kinds), worth_(worth), left_(most), blocks_(blocks) {}

  /// Fills a rectangle with what is left to place; kNoBlock when nothing fits.
  std::size_t fill(const Extent& room, int depth) {
    if (depth > kMostOffcuts || room.width <= 0 || room.height <= 0) return kNoBlock;
    const std::vector<std::int64_t> before = left_;
    std::size_t best = kNoBlock;
    double best_worth = 0.0;
    std::vector<std::int64_t> best_left = before;
    for (const bool across : {false, true}) {
      left_ = before;
      const std::size_t block = fill_strips(room, depth, across);
      const double worth = worth_of(before);
      if (block == kNoBlock || worth <= best_worth * (1 + 1e-12)) continue;
      best = block;
      best_worth = worth;
      best_left = left_;
    }
    left_ = best_left;
    return best;
  }

  [[nodiscard]] const std::vector<std::int64_t>& left() const { return left_; }

 private:
  /// A kind in one of the ways it may lie: along the strip and across it.
  struct Lying {
    std::size_t kind = 0;
    bool turned = false;
    std::int64_t along = 0;
    std::int64_t across = 0;
  };
  struct Strip {
    std::int64_t across = 0;
    std::vector<std::int64_t> columns;  ///< of each Lying
    double worth = 0.0;
  };

  [[nodiscard]] double worth_of(const std::vector<std::int64_t>& before) const {
    double sum = 0.0;
    for (std::size_t k = 0; k < before.size(); ++k)
      sum += worth_[k] * static_cast<double>(before[k] - left_[k]);
    return sum;
  }

  [[nodiscard]] std::vector<Lying> lyings(std::int64_t along, std::int64_t across, bool upright) const {
    std::vector<Lying> list;
    for (std::size_t k = 0; k < kinds_.size(); ++k) {
      if (left_[k] == 0) continue;
      for (const bool turned : {false, true}) {
        const PieceKind& kind = kinds_[k];
        if (turned && (!kind.free || kind.width == kind.height)) continue;
        const std::int64_t width = turned ? kind.height : kind.width;
        const std::int64_t height = turned ? kind.width : kind.height;
        const Lying one{k, turned, upright ? height : width, upright ? width : height};
        if (one.along <= along && one.across <= across) list.push_back(one);
      }
    }
    return list;
  }

  /// Pieces of a column, one above the other.
  [[nodiscard]] std::int64_t deep(const Lying& one, std::int64_t across) const {
    return std::min(across / one.across, left_[one.kind]);
  }

  [[nodiscard]] Strip best_strip(std::int64_t along, std::int64_t across,
                                 const std::vector<Lying>& lying) const {
    std::vector<Item> items;
    for (const Lying& one : lying) {
      const std::int64_t stack = one.across <= across ? deep(one, across) : 0;
      items.push_back({one.along, worth_[one.kind] * static_cast<double>(stack),
                       stack > 0 ? left_[one.kind] / stack : 0});
    }
    Strip strip{across, best_fill(along, items), 0.0};
    // The two ways of a kind share what is left of it.
    std::vector<std::int64_t> left = left_;
    for (std::size_t i = 0; i < lying.size(); ++i) {
      const std::int64_t stack = lying[i].across <= across ? deep(lying[i], across) : 0;
      if (stack == 0) continue;
      strip.columns[i] = std::min(strip.columns[i], left[lying[i].kind] / stack);
      left[lying[i].kind] -= strip.columns[i] * stack;
      strip.worth += static_cast<double>(strip.columns[i]) * items[i].worth;
    }
    return strip;
  }

  /// The strip to cut next: of those that fill the rest of the sheet best, the most valuable.
  [[nodiscard]] Strip next_strip(std::int64_t along, std::int64_t across,
                                 const std::vector<Lying>& lying) const {
    std::vector<std::int64_t> depths;
    for (const Lying& one : lying) depths.push_back(one.across);
    std::sort(depths.begin(), depths.end());
    depths.erase(std::unique(depths.begin(), depths.end()), depths.end());
    std::vector<Strip> strips;
    std::vector<Item> items;
    for (const std::int64_t depth : depths) {
      strips.push_back(best_strip(along, depth, lying));
      items.push_back({depth, strips.back().worth, across / depth});
    }
    const std::vector<std::int64_t> taken = best_fill(across, items);
    std::size_t best = strips.size();
    for (std::size_t i = 0; i < strips.size(); ++i) {
      if (taken[i] > 0 && (best == strips.size() || strips[i].worth > strips[best].worth)) best = i;
    }
    return best == strips.size() ? Strip{} : strips[best];
  }

  [[nodiscard]] std::size_t filled_rest(std::int64_t along, std::int64_t across, bool upright, int depth) {
    return fill(upright ? Extent{across, along} : Extent{along, across}, depth + 1);
  }

  std::size_t build_strip(const Strip& strip, const std::vector<Lying>& lying, std::int64_t along,
                          bool upright, int depth) {
    std::size_t whole = kNoBlock;
    std::int64_t used = 0;
    std::vector<std::pair<const Lying*, std::int64_t>> columns;
    for (std::size_t i = 0; i < lying.size(); ++i) {
      if (strip.columns[i] == 0) continue;
      const std::int64_t stack = deep(lying[i], strip.across);
      columns.insert(columns.end(), static_cast<std::size_t>(strip.columns[i]), {&lying[i], stack});
    }
    // All are taken before anything fills what is left between them.
    for (const auto& [one, stack] : columns) left_[one->kind] -= stack;
    for (const auto& [one, stack] : columns) {
      std::size_t column = kNoBlock;
      for (std::int64_t s = 0; s < stack; ++s)
        column = blocks_.join(column, blocks_.piece(kinds_[one->kind], one->kind, one->turned), upright);
      column = blocks_.join(
          column, filled_rest(one->along, strip.across - stack * one->across, upright, depth), upright);
      whole = blocks_.join(whole, column, !upright);
      used += one->along;
    }
    return blocks_.join(whole, filled_rest(along - used, strip.across, upright, depth), !upright);
  }

  /// Strips that run from left to right; `upright`: from top to bottom.
  std::size_t fill_strips(const Extent& room, int depth, bool upright) {
    const std::int64_t along = upright ? room.height : room.width;
    std::int64_t across = upright ? room.width : room.height;
    std::size_t whole = kNoBlock;
    for (;;) {
      const std::vector<Lying> lying = lyings(along, across, upright);
      if (lying.empty()) return whole;
      const Strip strip = next_strip(along, across, lying);
      if (strip.worth <= 0.0) return whole;
      whole = blocks_.join(whole, build_strip(strip, lying, along, upright, depth), upright);
      across -= strip.across;
    }
  }

  const std::vector<PieceKind>& kinds_;
  const std::vector<double>& worth_;
  std::vector<std::int64_t> left_;
  Blocks& blocks_;
};

}  // namespace

Pattern strip_pattern(const Extent& sheet, const std::vector<PieceKind>& kinds,
                      const std::vector<double>& worth, const std::vector<std::int64_t>& most,
                      Blocks& blocks) {
  Filler filler(kinds, worth, most, blocks);
  Pattern pattern;
  pattern.block = filler.fill(sheet, 0);
  for (std::size_t k = 0; k < most.size(); ++k) pattern.counts.push_back(most[k] - filler.left()[k]);
  return pattern;
}

}  // namespace kithue
