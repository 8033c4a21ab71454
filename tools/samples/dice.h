// SPDX-License-Identifier: MIT
#pragma once

#include <cstddef>
#include <cstdint>
#include <random>
#include <span>

namespace kithue::samples {

/// Random numbers that are the same with every library.
class Dice {
 public:
  explicit Dice(std::uint64_t seed) : engine_(seed) {}
  /// 0 to `count` - 1. REQUIRES: count > 0.
  std::size_t below(std::size_t count) { return static_cast<std::size_t>(engine_() % count); }
  /// `low` to `high`, both included.
  int between(int low, int high) {
    return low + static_cast<int>(below(static_cast<std::size_t>(high - low + 1)));
  }
  bool chance(std::size_t one_in) { return below(one_in) == 0; }
  template <typename T, std::size_t N>
  const T& one_of(const T (&list)[N]) {
    return list[below(N)];
  }
  unsigned char byte() { return static_cast<unsigned char>(engine_() & 0xffU); }

 private:
  std::mt19937_64 engine_;
};

}  // namespace kithue::samples
