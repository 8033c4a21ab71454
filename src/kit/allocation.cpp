// SPDX-License-Identifier: MIT
#include "kit/allocation.h"

#include <algorithm>
#include <map>
#include <numeric>
#include <optional>

#include "kit/cut_jobs.h"

namespace kithue {
namespace {

constexpr int kMostPlans = 4'000;    // of the search that tries all
constexpr double kMostShares = 2e5;  // ways to share out, for that search

/// One wish from one of its sides.
struct SideOfWish {
  std::size_t wish = 0;
  std::size_t side = 0;
};

class Allocator {
 public:
  explicit Allocator(const AllocationJob& job) : job_(job) {
    for (std::size_t w = 0; w < job.wishes.size(); ++w) {
      for (std::size_t s = 0; s < job.wishes[w].sides.size(); ++s) choices_.push_back({w, s});
    }
    counts_.assign(choices_.size(), 0);
  }

  Result<Allocation> run() {
    if (MaybeError error = one_of_each()) return *error;
    for (const Wish& wish : job_.wishes) {
      std::int64_t most = 0;
      for (const WishSide& side : wish.sides) most = std::max(most, side.score);
      best_score_ += most * wish.count;
    }
    share_in_order();
    bool proved = score_of(best_) == best_score_;
    if (!proved && few_shares()) {
      proved = true;
      std::fill(counts_.begin(), counts_.end(), 0);
      std::vector<std::int64_t> left;
      for (const Wish& wish : job_.wishes) left.push_back(wish.count);
      try_all(0, 0, left, proved);
    }
    return finished(proved);
  }

 private:
  [[nodiscard]] const WishSide& side_of(const SideOfWish& choice) const {
    return job_.wishes[choice.wish].sides[choice.side];
  }

  [[nodiscard]] CutJob job_of(std::size_t sheet, const std::vector<std::int64_t>& counts) const {
    CutJob job{job_.sheets[sheet].sheet, true, job_.sheet, {}};
    for (std::size_t c = 0; c < choices_.size(); ++c) {
      const WishSide& side = side_of(choices_[c]);
      if (side.sheet != sheet) continue;
      const Wish& wish = job_.wishes[choices_[c].wish];
      job.pieces.push_back({wish.name, wish.size, counts[c], side.upright, side.turned, side.face, {}});
    }
    return job;
  }

  MaybeError one_of_each() const {
    for (std::size_t sheet = 0; sheet < job_.sheets.size(); ++sheet) {
      for (const CutPiece& piece : job_of(sheet, std::vector<std::int64_t>(choices_.size(), 1)).pieces) {
        const auto plan = plan_cuts({job_.sheets[sheet].sheet, true, job_.sheet, {piece}});
        if (!plan) return plan.error();
      }
    }
    return std::nullopt;
  }

  /// Do these counts fit the sheets there are? Each question is worked out once.
  bool fits(std::size_t sheet, const std::vector<std::int64_t>& counts) {
    std::vector<std::int64_t> key{static_cast<std::int64_t>(sheet)};
    double area = 0.0;
    for (std::size_t c = 0; c < choices_.size(); ++c) {
      if (side_of(choices_[c]).sheet != sheet) continue;
      key.push_back(counts[c]);
      const Size& size = job_.wishes[choices_[c].wish].size;
      area += mm_of(size.width) * mm_of(size.height) * static_cast<double>(counts[c]);
    }
    const auto there = static_cast<double>(job_.sheets[sheet].count);
    if (area > there * mm_of(job_.sheet.width) * mm_of(job_.sheet.height) * (1 + 1e-12)) return false;
    const auto known = fits_.find(key);
    if (known != fits_.end()) return known->second;
    ++plans_;
    const auto plan = plan_cuts(job_of(sheet, counts));
    return fits_[key] = plan.has_value() && plan->sheets <= job_.sheets[sheet].count;
  }

  [[nodiscard]] std::int64_t score_of(const std::vector<std::int64_t>& counts) const {
    std::int64_t score = 0;
    for (std::size_t c = 0; c < counts.size(); ++c) score += counts[c] * side_of(choices_[c]).score;
    return score;
  }

  void keep_if_better() {
    if (best_.empty() || score_of(counts_) > score_of(best_)) best_ = counts_;
  }

  /// As many as fit, found by halving.
  void grant(std::size_t c, std::int64_t most) {
    std::int64_t least = 0;
    const std::size_t sheet = side_of(choices_[c]).sheet;
    while (least < most) {
      const std::int64_t middle = least + (most - least + 1) / 2;
      counts_[c] = middle;
      if (fits(sheet, counts_))
        least = middle;
      else
        most = middle - 1;
    }
    counts_[c] = least;
  }

  /// In the order of worth, of worth an area, and of area.
  void share_in_order() {
    const auto area = [&](std::size_t c) {
      const Size& size = job_.wishes[choices_[c].wish].size;
      return mm_of(size.width) * mm_of(size.height);
    };
    const auto score = [&](std::size_t c) { return static_cast<double>(side_of(choices_[c]).score); };
    for (int order = 0; order < 3; ++order) {
      const auto rank = [&](std::size_t c) {
        return order == 0 ? score(c) : order == 1 ? score(c) / area(c) : score(c) * area(c);
      };
      std::vector<std::size_t> list(choices_.size());
      std::iota(list.begin(), list.end(), std::size_t{0});
      std::stable_sort(list.begin(), list.end(),
                       [&](std::size_t x, std::size_t y) { return rank(x) > rank(y); });
      std::fill(counts_.begin(), counts_.end(), 0);
      for (const std::size_t c : list) {
        std::int64_t left = job_.wishes[choices_[c].wish].count;
        for (std::size_t other = 0; other < choices_.size(); ++other) {
          if (choices_[other].wish == choices_[c].wish) left -= counts_[other];
        }
        grant(c, left);
      }
      keep_if_better();
    }
  }

  [[nodiscard]] bool few_shares() const {
    double ways = 1.0;
    for (const SideOfWish& choice : choices_) ways *= static_cast<double>(job_.wishes[choice.wish].count + 1);
    return ways <= kMostShares;
  }

  /// Every sharing out, from choice `c` on, that could still be better than the best.
  void try_all(std::size_t c, std::int64_t score, std::vector<std::int64_t>& left, bool& proved) {
    if (c == choices_.size()) return keep_if_better();
    std::int64_t at_most = score;
    for (std::size_t w = 0; w < left.size(); ++w) {
      std::int64_t most = 0;
      for (std::size_t d = c; d < choices_.size(); ++d) {
        if (choices_[d].wish == w) most = std::max(most, side_of(choices_[d]).score);
      }
      at_most += most * left[w];
    }
    if (at_most <= score_of(best_)) return;
    if (plans_ > kMostPlans) {
      proved = false;
      return;
    }
    std::int64_t& of_wish = left[choices_[c].wish];
    for (std::int64_t count = of_wish; count >= 0; --count) {
      counts_[c] = count;
      if (count > 0 && !fits(side_of(choices_[c]).sheet, counts_)) continue;
      of_wish -= count;
      try_all(c + 1, score + count * side_of(choices_[c]).score, left, proved);
      of_wish += count;
    }
    counts_[c] = 0;
  }

  Result<Allocation> finished(bool proved) {
    Allocation allocation;
    allocation.score = score_of(best_);
    allocation.best_score = best_score_;
    allocation.best = proved;
    for (std::size_t c = 0; c < choices_.size(); ++c) {
      if (best_[c] > 0) allocation.granted.push_back({choices_[c].wish, choices_[c].side, best_[c]});
    }
    for (std::size_t sheet = 0; sheet < job_.sheets.size(); ++sheet) {
      CutJob job = job_of(sheet, best_);
      job.pieces.erase(std::remove_if(job.pieces.begin(), job.pieces.end(),
                                      [](const CutPiece& piece) { return piece.count == 0; }),
                       job.pieces.end());
      auto plan = plan_cuts(job);
      if (!plan) return plan.error();
      allocation.jobs.push_back(std::move(job));
      allocation.plans.push_back(*std::move(plan));
    }
    return allocation;
  }

  const AllocationJob& job_;
  std::vector<SideOfWish> choices_;
  std::vector<std::int64_t> counts_;
  std::vector<std::int64_t> best_;
  std::map<std::vector<std::int64_t>, bool> fits_;
  std::int64_t best_score_ = 0;
  int plans_ = 0;
};

std::size_t index_of(const AllocationJob& job, const std::string& sheet) {
  const auto at = std::find_if(job.sheets.begin(), job.sheets.end(),
                               [&](const AllocationJob::Sheets& one) { return one.sheet == sheet; });
  return static_cast<std::size_t>(at - job.sheets.begin());
}

}  // namespace

Result<Allocation> allocate(const AllocationJob& job) {
  return Allocator(job).run();
}

AllocationJob allocation_job(const Kit& kit, std::int64_t packs) {
  AllocationJob job;
  job.sheet = kit.pack.sheet;
  for (const std::string& sheet : sheets_of(kit)) job.sheets.push_back({sheet, packs * kit.pack.copies});
  for (const CutJob& cut : cut_jobs(kit)) {
    if (!cut.patterned) continue;
    for (const CutPiece& piece : cut.pieces)
      job.wishes.push_back(
          {piece.name,
           piece.size,
           piece.count,
           {{index_of(job, cut.paper), piece.face, piece.upright, piece.turned, kMustScore}}});
  }
  // Pieces of cards are wishes; the rest must be there.
  for (const KitCard& card : kit.cards) {
    for (const KitPiece& piece : card.pieces) {
      if (piece.face.empty() || piece.from_portion) continue;
      const std::string name = card.name + ": " + piece.name;
      Wish& wish = *std::find_if(job.wishes.begin(), job.wishes.end(),
                                 [&](const Wish& one) { return one.name == name; });
      const std::int64_t score =
          piece.wish > 0 ? piece.wish : static_cast<std::int64_t>(piece.others.size()) + 1;
      wish.sides.front().score = score;
      for (std::size_t i = 0; i < piece.others.size(); ++i) {
        KitPiece other = piece;
        other.face = piece.others[i];
        const WaysToLie ways = ways_to_lie(kit, other);
        wish.sides.push_back({index_of(job, face_named(kit, other.face)->sheet), other.face, ways.upright,
                              ways.turned,
                              std::max<std::int64_t>(1, score - 1 - static_cast<std::int64_t>(i))});
      }
    }
  }
  return job;
}

}  // namespace kithue
