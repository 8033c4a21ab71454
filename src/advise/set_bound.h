// SPDX-License-Identifier: MIT
#pragma once

#include <cstddef>
#include <cstdint>
#include <utility>
#include <vector>

#include "advise/set_rules.h"
#include "advise/set_search.h"

namespace kithue {

/// What the bound charges for: the multipliers of the relaxed rules.
struct Prices {
  std::vector<double> target;    ///< for assigning a target once
  std::vector<double> cover;     ///< for covering once, 0 or more
  std::vector<double> conflict;  ///< for choosing both, 0 or more
};

/// The Lagrangian bound of a problem and the items still in play. Outlived by the problem.
class SetBound {
 public:
  explicit SetBound(const SetProblem& problem);

  /// Prices to begin with: a target at the cost of a middling item.
  [[nodiscard]] Prices first_prices() const;

  struct Relaxed {
    double bound = 0.0;      ///< no set that fits the status costs less
    double last_in = 0.0;    ///< reduced cost of the dearest open item chosen
    double first_out = 0.0;  ///< of the cheapest open item left
  };
  /// The relaxation at these prices; is_chosen() and chosen() then tell what it takes.
  Relaxed relax(const std::vector<Status>& status, const Prices& prices);
  /// One step of the prices along the subgradient; false when every relaxed rule is kept already.
  bool step(Prices& prices, double length);
  /// Fixes open items that no set cheaper than `best` can leave out, or have; true when it fixed one.
  bool fix_by_reduced_cost(std::vector<Status>& status, const Relaxed& relaxed, double best) const;
  /// Forgets the items that the root has ruled out, once they are half of all.
  void forget_ruled_out(const std::vector<Status>& root);

  /// Not yet forgotten, in rising order.
  [[nodiscard]] const std::vector<std::size_t>& alive() const { return alive_; }
  [[nodiscard]] bool is_chosen(std::size_t item) const { return chosen_mark_[item] != 0; }
  [[nodiscard]] std::vector<std::size_t> chosen() const;

 private:
  double charge(const Prices& prices);

  const SetProblem& p_;
  std::vector<std::vector<std::pair<double, std::uint32_t>>> sorted_;  // per target: items, nearest first
  std::vector<std::size_t> alive_;
  std::vector<double> reduced_;
  std::vector<std::size_t> order_;  // open items, the chosen ones first
  std::vector<int> chosen_mark_;
  std::vector<double> target_slope_, cover_slope_, conflict_slope_;
};

}  // namespace kithue
