// SPDX-License-Identifier: MIT
#include "kit/all_patterns.h"

#include <algorithm>
#include <cmath>

namespace kithue {
namespace {

constexpr std::size_t kMostSets = 60'000;

/// A rectangle that holds a set of pieces.
struct Holder {
  std::int64_t width = 0;
  std::int64_t height = 0;
  int levels = 0;
  std::size_t block = kNoBlock;
};

class Search {
 public:
  Search(const Extent& sheet, const std::vector<PieceKind>& kinds, std::int64_t most_steps, Blocks& blocks)
      : sheet_(sheet), kinds_(kinds), steps_left_(most_steps), blocks_(blocks) {}

  bool run(std::vector<Pattern>& patterns) {
    if (!number_sets()) return false;
    fronts_.resize(sets_);
    bool whole = true;
    std::vector<std::int64_t> set(kinds_.size(), 0);
    for (std::size_t number = 1; number < sets_ && whole; ++number) {
      advance(set);
      whole = try_set(number, set);
    }
    add_largest(patterns);
    return whole;
  }

 private:
  /// Sets of pieces are numbered like numbers whose digits go up to how many of a kind fit.
  bool number_sets() {
    const double room = area_of(sheet_.width, sheet_.height);
    for (const PieceKind& kind : kinds_) {
      const double fit = std::floor(room / area_of(kind.width, kind.height) * (1 + 1e-12));
      const auto cap = std::min(kind.count, static_cast<std::int64_t>(std::min(fit, 1e6)));
      caps_.push_back(cap);
      strides_.push_back(sets_);
      if (static_cast<double>(sets_) * static_cast<double>(cap + 1) > kMostSets) return false;
      sets_ *= static_cast<std::size_t>(cap + 1);
    }
    return true;
  }

  void advance(std::vector<std::int64_t>& set) const {
    for (std::size_t k = 0; k < set.size(); ++k) {
      if (++set[k] <= caps_[k]) return;
      set[k] = 0;
    }
  }

  /// False when there are no steps left.
  bool try_set(std::size_t number, const std::vector<std::int64_t>& set) {
    double area = 0.0;
    std::int64_t pieces = 0;
    std::size_t only = 0;
    for (std::size_t k = 0; k < set.size(); ++k) {
      if (set[k] == 0) continue;
      area += static_cast<double>(set[k]) * area_of(kinds_[k].width, kinds_[k].height);
      pieces += set[k];
      only = k;
    }
    if (pieces == 1) {
      add_single(number, only);
      return true;
    }
    if (area > area_of(sheet_.width, sheet_.height) * (1 + 1e-12)) return true;
    for (std::size_t k = 0; k < set.size(); ++k) {
      if (set[k] > 0 && number != strides_[k] && fronts_[number - strides_[k]].empty()) return true;
    }
    return join_parts(number, set);
  }

  void add_single(std::size_t number, std::size_t k) {
    const PieceKind& kind = kinds_[k];
    for (const bool turned : {false, true}) {
      if (turned && (!kind.free || kind.width == kind.height)) continue;
      const std::int64_t width = turned ? kind.height : kind.width;
      const std::int64_t height = turned ? kind.width : kind.height;
      if (width <= sheet_.width && height <= sheet_.height)
        fronts_[number].push_back({width, height, 0, blocks_.piece(kind, k, turned)});
    }
    std::sort(fronts_[number].begin(), fronts_[number].end(),
              [](const Holder& x, const Holder& y) { return x.width < y.width; });
  }

  /// Every split of the set in two, either half first being the same split.
  bool join_parts(std::size_t number, const std::vector<std::int64_t>& set) {
    std::vector<std::int64_t> part(set.size(), 0);
    std::size_t at = 0;
    for (;;) {
      std::size_t k = 0;
      for (; k < part.size(); ++k) {
        if (part[k] < set[k]) {
          ++part[k];
          at += strides_[k];
          break;
        }
        at -= static_cast<std::size_t>(part[k]) * strides_[k];
        part[k] = 0;
      }
      if (k == part.size() || at > number - at) {
        if (k == part.size()) return true;
        if (--steps_left_ < 0) return false;
        continue;
      }
      if (!join_fronts(number, at, number - at)) return false;
    }
  }

  bool join_fronts(std::size_t into, std::size_t first, std::size_t second) {
    steps_left_ -= 1 + static_cast<std::int64_t>(fronts_[first].size() * fronts_[second].size());
    if (steps_left_ < 0) return false;
    for (const Holder& a : fronts_[first]) {
      for (const Holder& b : fronts_[second]) {
        offer(into, a, b, true, a.width + b.width, std::max(a.height, b.height));
        offer(into, a, b, false, std::max(a.width, b.width), a.height + b.height);
      }
    }
    return true;
  }

  /// Takes the joined holder in unless another lies inside it; throws out those that it lies inside.
  void offer(std::size_t into, const Holder& a, const Holder& b, bool beside, std::int64_t width,
             std::int64_t height) {
    if (width > sheet_.width || height > sheet_.height) return;
    std::vector<Holder>& front = fronts_[into];
    // By width, so that heights fall.
    const auto at = std::lower_bound(front.begin(), front.end(), width,
                                     [](const Holder& one, std::int64_t w) { return one.width < w; });
    if (at != front.begin() && std::prev(at)->height <= height) return;
    int levels = -1;
    if (at != front.end() && at->width == width && at->height <= height) {
      if (at->height < height) return;
      levels = blocks_.levels_of(a.block, b.block, beside);
      if (at->levels <= levels) return;  // of two alike the one with fewer changes of direction
    }
    if (levels < 0) levels = blocks_.levels_of(a.block, b.block, beside);
    auto last = at;
    while (last != front.end() && last->height >= height) ++last;
    const Holder holder{width, height, levels, blocks_.join(a.block, b.block, beside)};
    front.insert(front.erase(at, last), holder);
  }

  void add_largest(std::vector<Pattern>& patterns) const {
    std::vector<std::int64_t> set(kinds_.size(), 0);
    for (std::size_t number = 1; number < sets_; ++number) {
      advance(set);
      if (fronts_[number].empty()) continue;
      bool largest = true;
      for (std::size_t k = 0; k < set.size() && largest; ++k)
        largest = set[k] == caps_[k] || fronts_[number + strides_[k]].empty();
      if (!largest) continue;
      const auto best =
          std::min_element(fronts_[number].begin(), fronts_[number].end(),
                           [](const Holder& x, const Holder& y) { return x.levels < y.levels; });
      patterns.push_back({set, best->block});
    }
  }

  const Extent& sheet_;
  const std::vector<PieceKind>& kinds_;
  std::int64_t steps_left_;
  Blocks& blocks_;
  std::vector<std::int64_t> caps_;
  std::vector<std::size_t> strides_;
  std::size_t sets_ = 1;
  std::vector<std::vector<Holder>> fronts_;
};

}  // namespace

bool all_patterns(const Extent& sheet, const std::vector<PieceKind>& kinds, std::int64_t most_steps,
                  Blocks& blocks, std::vector<Pattern>& patterns) {
  return Search(sheet, kinds, most_steps, blocks).run(patterns);
}

}  // namespace kithue
