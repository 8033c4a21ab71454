// SPDX-License-Identifier: MIT
#include "kit/pattern_program.h"

#include <algorithm>
#include <cmath>

namespace kithue {
namespace {

constexpr double kWorthIt = 1e-9;
constexpr int kMostRounds = 400;
constexpr std::size_t kSlack = static_cast<std::size_t>(-1);

/// The basis as its inverse, dense: a job has a few dozen kinds at most.
class Simplex {
 public:
  Simplex(const std::vector<std::int64_t>& wanted, const std::vector<Pattern>& patterns)
      : size_(wanted.size()), patterns_(patterns), inverse_(size_ * size_, 0.0) {
    for (const std::int64_t count : wanted) wanted_.push_back(static_cast<double>(count));
  }

  /// Starts from one pattern a kind, taken for that kind alone; what else it holds comes as a surplus of
  /// another kind. Patterns of one kind each are put in for that.
  void start(const std::vector<std::size_t>& single) {
    for (std::size_t k = 0; k < size_; ++k) {
      basis_.push_back({single[k], 0});
      inverse_[k * size_ + k] = 1.0 / static_cast<double>(patterns_[single[k]].counts[k]);
    }
    amounts_ = times_inverse(wanted_);
  }

  [[nodiscard]] std::vector<double> worth() const {
    std::vector<double> sum(size_, 0.0);
    for (std::size_t row = 0; row < size_; ++row) {
      if (basis_[row].pattern == kSlack) continue;
      for (std::size_t k = 0; k < size_; ++k) sum[k] += inverse_[row * size_ + k];
    }
    return sum;
  }

  /// Takes a pattern, or too many of a kind, into the basis. False when nothing bounds it.
  bool enter(std::size_t pattern, std::size_t kind) {
    std::vector<double> column(size_, 0.0);
    if (pattern == kSlack) {
      column[kind] = -1.0;
    } else {
      for (std::size_t k = 0; k < size_; ++k) column[k] = static_cast<double>(patterns_[pattern].counts[k]);
    }
    const std::vector<double> change = times_inverse(column);
    std::size_t leaves = size_;
    for (std::size_t row = 0; row < size_; ++row) {
      if (change[row] <= 1e-10) continue;
      if (leaves == size_ || amounts_[row] / change[row] < amounts_[leaves] / change[leaves] - 1e-12)
        leaves = row;
    }
    if (leaves == size_) return false;
    for (std::size_t k = 0; k < size_; ++k) inverse_[leaves * size_ + k] /= change[leaves];
    for (std::size_t row = 0; row < size_; ++row) {
      if (row == leaves) continue;
      for (std::size_t k = 0; k < size_; ++k)
        inverse_[row * size_ + k] -= change[row] * inverse_[leaves * size_ + k];
    }
    basis_[leaves] = {pattern, kind};
    amounts_ = times_inverse(wanted_);
    return true;
  }

  [[nodiscard]] PatternProgram result() const {
    PatternProgram program;
    program.times.assign(patterns_.size(), 0.0);
    for (std::size_t row = 0; row < size_; ++row) {
      if (basis_[row].pattern == kSlack) continue;
      program.times[basis_[row].pattern] += std::max(0.0, amounts_[row]);
      program.sheets += std::max(0.0, amounts_[row]);
    }
    return program;
  }

 private:
  struct Basic {
    std::size_t pattern = kSlack;
    std::size_t kind = 0;  ///< of a surplus
  };

  [[nodiscard]] std::vector<double> times_inverse(const std::vector<double>& column) const {
    std::vector<double> product(size_, 0.0);
    for (std::size_t row = 0; row < size_; ++row) {
      for (std::size_t k = 0; k < size_; ++k) product[row] += inverse_[row * size_ + k] * column[k];
    }
    return product;
  }

  std::size_t size_;
  const std::vector<Pattern>& patterns_;
  std::vector<double> wanted_;
  std::vector<double> inverse_;
  std::vector<Basic> basis_;
  std::vector<double> amounts_;
};

double worth_of(const Pattern& pattern, const std::vector<double>& worth) {
  double sum = 0.0;
  for (std::size_t k = 0; k < worth.size(); ++k) sum += worth[k] * static_cast<double>(pattern.counts[k]);
  return sum;
}

std::size_t best_pattern(const std::vector<Pattern>& patterns, const std::vector<double>& worth) {
  std::size_t best = kSlack;
  double most = 1.0 + kWorthIt;
  for (std::size_t p = 0; p < patterns.size(); ++p) {
    const double sum = worth_of(patterns[p], worth);
    if (sum <= most) continue;
    most = sum;
    best = p;
  }
  return best;
}

/// For each kind the pattern that holds most of it, and of nothing else.
std::vector<std::size_t> single_patterns(const std::vector<std::int64_t>& wanted,
                                         std::vector<Pattern>& patterns) {
  std::vector<std::size_t> single;
  const std::size_t known = patterns.size();
  for (std::size_t k = 0; k < wanted.size(); ++k) {
    std::size_t best = 0;
    for (std::size_t p = 0; p < known; ++p) {
      if (patterns[p].counts[k] > patterns[best].counts[k]) best = p;
    }
    Pattern alone{std::vector<std::int64_t>(wanted.size(), 0), patterns[best].block};
    alone.counts[k] = patterns[best].counts[k];
    single.push_back(patterns.size());
    patterns.push_back(std::move(alone));
  }
  return single;
}

}  // namespace

PatternProgram solve_program(const std::vector<std::int64_t>& wanted, std::vector<Pattern>& patterns,
                             const std::function<void(const std::vector<double>& worth)>& price) {
  const std::vector<std::size_t> single = single_patterns(wanted, patterns);
  Simplex simplex(wanted, patterns);
  simplex.start(single);
  bool at_best = false;
  for (int round = 0; round < kMostRounds; ++round) {
    const std::vector<double> worth = simplex.worth();
    const auto least = std::min_element(worth.begin(), worth.end());
    if (*least < -kWorthIt) {
      if (!simplex.enter(kSlack, static_cast<std::size_t>(least - worth.begin()))) break;
      continue;
    }
    std::size_t best = best_pattern(patterns, worth);
    if (best == kSlack) {
      price(worth);
      best = best_pattern(patterns, worth);
    }
    at_best = best == kSlack;
    if (at_best || !simplex.enter(best, 0)) break;
  }
  PatternProgram program = simplex.result();
  program.best = at_best;
  return program;
}

}  // namespace kithue
