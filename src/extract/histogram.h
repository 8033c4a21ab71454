// SPDX-License-Identifier: MIT
#pragma once

#include <array>
#include <cstdint>
#include <memory>
#include <vector>

#include "base/large_block.h"
#include "colour/lab.h"
#include "extract/cells.h"

namespace kithue::extract {

/// One occupied box of Lab, a unit a side, with what fell into it.
struct Bin {
  std::array<int, 3> at{};  ///< box of L, a, b: floor of the value
  std::int64_t count = 0;
  std::array<std::int64_t, 3> sum{};  ///< of the values in steps of 1 / kSteps
};

/// Counts of Lab colours in boxes of one unit. Only whole numbers are added, so that the order of adding
/// and of joining never shows.
class Histogram {
 public:
  void add(const CellLab& cell);
  /// Adds what is in the other.
  void join(const Histogram& other);
  /// Every occupied box, in the order of its page and its place there. `times`: what one cell counts.
  [[nodiscard]] std::vector<Bin> bins(int times = 1) const;

 private:
  struct Slot {
    std::int64_t count = 0;
    std::array<std::int64_t, 3> sum{};
  };
  static constexpr int kPage = 8;      // boxes a side of a page
  static constexpr int kPagesL = 32;   // L from -128 to 128
  static constexpr int kPagesAb = 64;  // a and b from -256 to 256
  static constexpr std::size_t kPlaces = std::size_t{kPagesL} * kPagesAb * kPagesAb;
  using Page = std::array<Slot, kPage * kPage * kPage>;
  /// The page at a place, made where there is none.
  Page& page_at(std::size_t place);
  Page& new_page(std::size_t place);
  struct PageAt {
    std::size_t place;
    std::unique_ptr<Page> page;
  };
  LargeBlock numbers_;  // of the page at each place, from 1 on; 0: none
  std::vector<PageAt> pages_;
};

/// A hill of the histogram: a colour that many cells have.
struct Peak {
  Lab lab;             ///< mean of the hill
  double count = 0.0;  ///< cells in the hill
};

/// How hills are told from roughness.
struct HillRules {
  double least = 1.0;  ///< fewer cells are noise
  double grain = 0.0;  ///< how much cells of one colour differ, Lab units: smaller valleys are noise
};

/// The hills, highest count first. Hills closer than 3 dE00 are one colour, and so are hills up to 12 dE00
/// apart with no real valley between them: grain, weave and watercolour make no colours.
std::vector<Peak> peaks_of(const std::vector<Bin>& bins, const HillRules& rules);

}  // namespace kithue::extract
