// SPDX-License-Identifier: MIT
#pragma once

#include <cstddef>
#include <cstdint>
#include <functional>
#include <vector>

#include "kit/guillotine.h"

namespace kithue {

/// The linear program of cutting stock: how often each pattern is used, in fractions, so that every kind is
/// cut at least as often as wanted from the least number of sheets.
struct PatternProgram {
  std::vector<double> times;  ///< of each pattern
  double sheets = 0.0;
  bool best = false;  ///< nothing is better: `sheets` bounds whole sheets from below, if the patterns are all
};

/// Solves it by the revised simplex method. `price` is given what a piece of each kind is worth and may add
/// patterns; it returns when it has none to add. REQUIRES: for every kind a pattern that holds it.
PatternProgram solve_program(const std::vector<std::int64_t>& wanted, std::vector<Pattern>& patterns,
                             const std::function<void(const std::vector<double>& worth)>& price);

}  // namespace kithue
