// SPDX-License-Identifier: MIT
#pragma once

#include <string>
#include <utility>
#include <vector>

namespace kithue::harness {

/// What one harness did. A harness whose faults never fired has shown nothing.
struct Tally {
  std::string name;
  long long tried = 0;                ///< situations set up
  long long fired = 0;                ///< faults, kills, cuts or hostile inputs that really took place
  long long failed = 0;               ///< promises broken
  std::vector<std::string> failures;  ///< the first of them, in words

  void fail(std::string what) {
    constexpr std::size_t kMostKept = 5;
    ++failed;
    if (failures.size() < kMostKept) failures.push_back(std::move(what));
  }
  void add(const Tally& other) {
    tried += other.tried;
    fired += other.fired;
    const long long told = failed + other.failed;
    for (const std::string& what : other.failures) fail(what);
    failed = told;
  }
  [[nodiscard]] bool passed() const { return fired > 0 && failed == 0; }
};

}  // namespace kithue::harness
