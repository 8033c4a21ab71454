// SPDX-License-Identifier: MIT
#pragma once

#include <cstdint>
#include <vector>

#include "advise/set_search.h"

namespace kithue {

/// What a search has settled of an item.
enum class Status : std::uint8_t { open, in, out };

/// The rules of a problem, and what follows from them for a half-made set. Outlived by the problem.
class SetRules {
 public:
  explicit SetRules(const SetProblem& problem);

  /// Draws the conclusions of the rules among `alive`, the items in play; false when they cannot all be kept.
  bool propagate(std::vector<Status>& status, const std::vector<std::size_t>& alive) const;
  /// The first cover without an item that is in; the number of covers when all are done.
  [[nodiscard]] std::size_t first_open_cover(const std::vector<Status>& status) const;
  [[nodiscard]] bool covers(std::size_t item, std::size_t cover) const;

 private:
  enum class Outcome : std::uint8_t { settled, changed, broken };
  Outcome rule_out_rivals(std::vector<Status>& status, const std::vector<std::size_t>& alive) const;
  Outcome keep_budget(std::vector<Status>& status, const std::vector<std::size_t>& alive,
                      std::size_t in) const;
  Outcome keep_covers(std::vector<Status>& status, std::size_t in) const;

  const SetProblem& p_;
  std::vector<std::vector<std::size_t>> rivals_;
  std::vector<std::vector<std::size_t>> covered_by_;
};

}  // namespace kithue
