// SPDX-License-Identifier: MIT
#include "kit/cutting_stock.h"

#include <algorithm>
#include <cmath>
#include <limits>
#include <optional>

#include "kit/all_patterns.h"
#include "kit/pattern_program.h"
#include "kit/strip_patterns.h"

namespace kithue {
namespace {

using Counts = std::vector<std::int64_t>;

constexpr std::int64_t kMostSteps = 12'000'000;  // of the search for all patterns
constexpr double kMostStates = 60'000;           // of the exact search for sheets ...
constexpr double kMostMoves = 20'000'000;        // ... and states times patterns
constexpr int kMostPasses = 8;                   // of the greedy search, with other worths each time
constexpr int kMostFills = 240;                  // strip patterns in all passes together
constexpr int kMostAlternatives = 12;            // other ways of rounding

std::int64_t total(const Counts& counts) {
  std::int64_t sum = 0;
  for (const std::int64_t count : counts) sum += count;
  return sum;
}

class StockCutter {
 public:
  StockCutter(const Extent& sheet, const std::vector<PieceKind>& kinds, Blocks& blocks,
              std::vector<Pattern>& patterns)
      : sheet_(sheet), kinds_(kinds), blocks_(blocks), patterns_(patterns) {
    for (const PieceKind& kind : kinds) {
      wanted_.push_back(kind.count);
      worth_.push_back(area_of(kind.width, kind.height) / area_of(sheet.width, sheet.height));
    }
  }

  StockCut run() {
    double area = 0.0;
    for (std::size_t k = 0; k < kinds_.size(); ++k) area += worth_[k] * static_cast<double>(wanted_[k]);
    bound_ = std::max<std::int64_t>(1, std::llround(std::ceil(area * (1 - 1e-12) - 1e-9)));
    StockCut best = greedy(wanted_);
    if (best.sheets > bound_) improve(best);
    best.fewest = best.sheets <= bound_;
    return best;
  }

 private:
  void improve(StockCut& best) {
    const bool all = all_patterns(sheet_, kinds_, kMostSteps, blocks_, patterns_);
    if (const auto exact = search(wanted_)) {
      if (exact->sheets < best.sheets) best = *exact;
      if (all) bound_ = best.sheets;
      if (all) return;
    }
    int fills = 0;
    const PatternProgram program = solve_program(wanted_, patterns_, [&](const std::vector<double>& worth) {
      if (!all && ++fills <= kMostFills) add_pattern(worth, wanted_);
    });
    if (all && program.best)
      bound_ = std::max<std::int64_t>(bound_, std::llround(std::ceil(program.sheets - 1e-6)));
    round(program, best);
  }

  /// A pattern out of strips; its index, or nothing when not one piece fits.
  std::optional<std::size_t> add_pattern(const std::vector<double>& worth, const Counts& most) {
    Pattern pattern = strip_pattern(sheet_, kinds_, worth, most, blocks_);
    if (pattern.block == kNoBlock) return std::nullopt;
    patterns_.push_back(std::move(pattern));
    return patterns_.size() - 1;
  }

  /// Whole sheets of each pattern, and a search for what is then still wanted.
  void round(const PatternProgram& program, StockCut& best) {
    std::vector<std::pair<std::size_t, std::int64_t>> times;
    for (std::size_t p = 0; p < program.times.size(); ++p) {
      const double whole = std::floor(program.times[p] + 1e-9);
      if (program.times[p] > 1e-9) times.emplace_back(p, static_cast<std::int64_t>(whole));
    }
    finish(times, best);
    for (std::size_t i = 0; i < times.size() && i < kMostAlternatives && best.sheets > bound_; ++i) {
      for (const std::int64_t step : {std::int64_t{1}, std::int64_t{-1}}) {
        auto other = times;
        other[i].second = std::max<std::int64_t>(0, other[i].second + step);
        finish(other, best);
      }
    }
  }

  void finish(const std::vector<std::pair<std::size_t, std::int64_t>>& times, StockCut& best) {
    StockCut cut;
    Counts rest = wanted_;
    for (const auto& [pattern, sheets] : times) {
      if (sheets == 0) continue;
      cut.times.emplace_back(pattern, sheets);
      cut.sheets += sheets;
      for (std::size_t k = 0; k < rest.size(); ++k)
        rest[k] = std::max<std::int64_t>(0, rest[k] - sheets * patterns_[pattern].counts[k]);
    }
    if (cut.sheets >= best.sheets) return;
    if (total(rest) > 0) {
      StockCut more = greedy(rest);
      if (cut.sheets + more.sheets > bound_) {
        if (const auto exact = search(rest); exact && exact->sheets < more.sheets) more = *exact;
      }
      cut.times.insert(cut.times.end(), more.times.begin(), more.times.end());
      cut.sheets += more.sheets;
    }
    if (cut.sheets < best.sheets) best = cut;
  }

  /// Patterns of which none is part of another, cut down to what is wanted.
  [[nodiscard]] std::vector<std::pair<Counts, std::size_t>> useful(const Counts& wanted) const {
    std::vector<std::pair<Counts, std::size_t>> list;
    for (std::size_t p = 0; p < patterns_.size(); ++p) {
      Counts counts = patterns_[p].counts;
      for (std::size_t k = 0; k < counts.size(); ++k) counts[k] = std::min(counts[k], wanted[k]);
      if (total(counts) > 0) list.emplace_back(std::move(counts), p);
    }
    std::stable_sort(list.begin(), list.end(),
                     [](const auto& x, const auto& y) { return x.first > y.first; });
    list.erase(std::unique(list.begin(), list.end(),
                           [](const auto& x, const auto& y) { return x.first == y.first; }),
               list.end());
    constexpr std::size_t kFewEnough = 3'000;  // to compare each with each
    if (list.size() > kFewEnough) return list;
    std::vector<std::pair<Counts, std::size_t>> kept;
    for (const auto& one : list) {
      const bool part = std::any_of(list.begin(), list.end(), [&](const auto& other) {
        if (other.second == one.second) return false;
        for (std::size_t k = 0; k < wanted.size(); ++k) {
          if (one.first[k] > other.first[k]) return false;
        }
        return true;
      });
      if (!part) kept.push_back(one);
    }
    return kept;
  }

  /// The least number of sheets of the known patterns, for every number of pieces up to those wanted. Nothing
  /// when there are too many.
  [[nodiscard]] std::optional<StockCut> search(const Counts& wanted) const {
    double states = 1.0;
    for (const std::int64_t count : wanted) states *= static_cast<double>(count + 1);
    if (states > kMostStates) return std::nullopt;
    const auto list = useful(wanted);
    if (states * static_cast<double>(list.size()) > kMostMoves) return std::nullopt;
    std::vector<std::size_t> strides;
    std::size_t size = 1;
    for (const std::int64_t count : wanted) {
      strides.push_back(size);
      size *= static_cast<std::size_t>(count + 1);
    }
    constexpr std::int64_t kNever = std::numeric_limits<std::int64_t>::max() / 2;
    std::vector<std::int64_t> sheets(size, kNever);
    std::vector<std::size_t> by(size, 0);
    sheets[0] = 0;
    Counts set(wanted.size(), 0);
    const auto after = [&](const Counts& counts) {
      std::size_t number = 0;
      for (std::size_t k = 0; k < set.size(); ++k)
        number += static_cast<std::size_t>(std::max<std::int64_t>(0, set[k] - counts[k])) * strides[k];
      return number;
    };
    for (std::size_t number = 1; number < size; ++number) {
      for (std::size_t k = 0; k < set.size() && ++set[k] > wanted[k]; ++k) set[k] = 0;
      for (std::size_t i = 0; i < list.size(); ++i) {
        const std::size_t rest = after(list[i].first);
        if (rest == number || sheets[rest] + 1 >= sheets[number]) continue;
        sheets[number] = sheets[rest] + 1;
        by[number] = i;
      }
    }
    if (sheets[size - 1] >= kNever) return std::nullopt;
    StockCut cut;
    cut.sheets = sheets[size - 1];
    set = wanted;
    for (std::size_t number = size - 1; number != 0;) {
      const auto& [counts, pattern] = list[by[number]];
      number = after(counts);
      for (std::size_t k = 0; k < set.size(); ++k) set[k] = std::max<std::int64_t>(0, set[k] - counts[k]);
      if (!cut.times.empty() && cut.times.back().first == pattern)
        ++cut.times.back().second;
      else
        cut.times.emplace_back(pattern, 1);
    }
    return cut;
  }

  /// Sheet after sheet the pattern worth most, as often as it can be used. Then again, with pieces that came
  /// to lie on poorly filled sheets worth more (sequential value correction).
  StockCut greedy(const Counts& wanted) {
    std::vector<double> worth = worth_;
    StockCut best;
    for (int pass = 0; pass < kMostPasses; ++pass) {
      std::vector<double> next = worth;
      const StockCut cut = one_pass(wanted, worth, next);
      if (pass == 0 || cut.sheets < best.sheets) best = cut;
      if (best.sheets <= bound_ || fills_ > kMostFills) break;
      worth = next;
    }
    return best;
  }

  StockCut one_pass(const Counts& wanted, const std::vector<double>& worth, std::vector<double>& next) {
    StockCut cut;
    Counts rest = wanted;
    while (total(rest) > 0) {
      ++fills_;
      const auto pattern = add_pattern(worth, rest);
      if (!pattern) break;
      const Counts& counts = patterns_[*pattern].counts;
      std::int64_t times = std::numeric_limits<std::int64_t>::max();
      double filled = 0.0;
      for (std::size_t k = 0; k < rest.size(); ++k) {
        if (counts[k] > 0) times = std::min(times, rest[k] / counts[k]);
        filled += static_cast<double>(counts[k]) * worth_[k];
      }
      for (std::size_t k = 0; k < rest.size(); ++k) {
        rest[k] -= times * counts[k];
        if (counts[k] > 0) next[k] = 0.6 * next[k] + 0.4 * worth_[k] / filled;
      }
      cut.times.emplace_back(*pattern, times);
      cut.sheets += times;
    }
    return cut;
  }

  const Extent& sheet_;
  const std::vector<PieceKind>& kinds_;
  Blocks& blocks_;
  std::vector<Pattern>& patterns_;
  Counts wanted_;
  std::vector<double> worth_;  // the part of a sheet
  std::int64_t bound_ = 1;
  int fills_ = 0;
};

}  // namespace

StockCut cut_stock(const Extent& sheet, const std::vector<PieceKind>& kinds, Blocks& blocks,
                   std::vector<Pattern>& patterns) {
  return StockCutter(sheet, kinds, blocks, patterns).run();
}

}  // namespace kithue
