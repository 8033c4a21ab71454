// SPDX-License-Identifier: MIT
#pragma once

#include <cstddef>
#include <cstdint>
#include <random>

#include "colour/lab.h"

namespace kithue {

/// Seeded numbers that are the same on every system (the standard distributions are not).
class Dice {
 public:
  explicit Dice(std::uint64_t seed) : engine_(seed) {}
  double between(double low, double high) {
    return low + (high - low) * static_cast<double>(engine_() >> 11) / 9007199254740992.0;
  }
  /// low to high, both included.
  int whole(int low, int high) {
    return low + static_cast<int>(engine_() % static_cast<std::uint64_t>(high - low + 1));
  }
  std::size_t index(std::size_t size) { return static_cast<std::size_t>(engine_() % size); }
  bool chance(double share) { return between(0.0, 1.0) < share; }
  /// A colour with a* and b* within +-reach.
  Lab lab(double reach = 70.0) {
    const double L = between(15, 97);
    const double a = between(-reach, reach);
    return {L, a, between(-reach, reach)};
  }

 private:
  std::mt19937_64 engine_;
};

}  // namespace kithue
