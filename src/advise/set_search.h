// SPDX-License-Identifier: MIT
#pragma once

#include <cstddef>
#include <cstdint>
#include <limits>
#include <utility>
#include <vector>

namespace kithue {

/// Choose `count` of the items so that the sum over the targets of the cost of the nearest chosen item is
/// least (a p-median problem), under rules.
struct SetProblem {
  std::size_t items = 0;
  std::size_t targets = 0;
  std::vector<double> cost;  ///< items * targets, finite, 0 or more: item i for target t at i * targets + t
  std::size_t count = 0;
  std::vector<std::size_t> must;                               ///< always chosen
  std::vector<std::size_t> never;                              ///< never chosen
  std::vector<std::pair<std::size_t, std::size_t>> conflicts;  ///< never both
  std::vector<std::vector<std::size_t>> covers;                ///< of each list at least one
  std::vector<std::int64_t> price;                             ///< of each item, 0 or more; or empty
  std::int64_t budget = 0;                                     ///< with prices: no set costs more
  [[nodiscard]] double at(std::size_t item, std::size_t target) const {
    return cost[item * targets + target];
  }
};

struct SetAnswer {
  bool feasible = false;            ///< a set that keeps the rules was found
  bool proved = false;              ///< nothing better exists; or, when not feasible, no set exists at all
  std::vector<std::size_t> chosen;  ///< in rising order
  double cost = 0.0;
  double bound = 0.0;       ///< no set that keeps the rules costs less
  double root_bound = 0.0;  ///< the same before any branching
  std::size_t nodes = 0;
};

/// The cost of what cannot be had.
inline constexpr double kNoCost = std::numeric_limits<double>::infinity();

/// Two costs nearer than this count as one.
inline constexpr double kSameCost = 1e-9;

/// The total cost of a set. REQUIRES: not empty, unless there are no targets.
double set_cost(const SetProblem& problem, const std::vector<std::size_t>& chosen);

/// True when the set has the right size and keeps every rule.
bool keeps_rules(const SetProblem& problem, const std::vector<std::size_t>& chosen);

/// The best set, exact: branch and bound on a Lagrangian bound, whose multipliers price each target's
/// assignment, each cover and each conflict, with items fixed by their reduced costs.
/// `most_nodes` bounds the work, not the time, so that the answer is the same everywhere; when it is used up,
/// `proved` is false and [bound, cost] is what is known.
/// Source of the bound: Cornuejols, Fisher & Nemhauser, Management Science 23(8), 789-810 (1977).
SetAnswer best_set(const SetProblem& problem, std::size_t most_nodes = 20000);

}  // namespace kithue
