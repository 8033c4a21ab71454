// SPDX-License-Identifier: MIT
#pragma once

#include <array>
#include <cstdint>
#include <optional>
#include <vector>

#include "base/executor.h"
#include "extract/cells.h"
#include "extract/histogram.h"
#include "extract/row_work.h"

namespace kithue::extract {

/// More grain than this, in steps, is not believed: everything changes, and the pattern itself passes for
/// grain.
inline constexpr int kMostGrain = 2 * kSteps;

/// How much neighbouring cells differ where nothing is drawn, in steps.
int grain_of(const Cells& cells, Executor& executor);

/// How flat the picture is around a cell. 0: it does not change at all beyond its grain. Higher: it changes
/// more, but much less than to what lies near by, as in small things whose edges the coding smears.
inline constexpr int kFlatTiers = 4;
inline constexpr int kNotFlat = kFlatTiers;

/// Which cells lie in a place where the picture does not change: edge mixtures never do.
class FlatTest {
 public:
  /// `grain` as grain_of gives it. Looks at every cell once; later changes of the cells do not show.
  FlatTest(const Cells& cells, int grain, Executor& executor);
  /// 0 to kFlatTiers - 1, or kNotFlat.
  [[nodiscard]] int tier(int x, int y) const {
    return tiers_[static_cast<std::size_t>(y) * static_cast<std::size_t>(width_) +
                  static_cast<std::size_t>(x)];
  }
  [[nodiscard]] bool at(int x, int y) const { return tier(x, y) == 0; }

  [[nodiscard]] const std::uint8_t* row(int y) const {
    return tiers_.data() + static_cast<std::size_t>(y) * static_cast<std::size_t>(width_);
  }

 private:
  int width_ = 0;
  std::vector<std::uint8_t> tiers_;
};

inline constexpr std::size_t kMostFlatColours = 64;  ///< more are left out
struct FlatColours {
  std::vector<Lab> colours;
  std::size_t sure = 0;  ///< the first so many are from the first tier
};
/// The colours of the flat cells: those of the first tier, then what further tiers add that is none of them,
/// nor a mixture of two of them. Of many cells every second is counted, twice.
FlatColours flat_colours(const Cells& cells, const FlatTest& flat, int grain, Executor& executor);

inline constexpr std::uint8_t kNoLabel = 255;

/// Colours by which cells are labelled.
class LabelTargets {
 public:
  explicit LabelTargets(const std::vector<Lab>& colours);
  /// As labels_of, for one row of cells of these tiers.
  void nearest(const CellRow& row, const std::uint8_t* tiers, int width, std::size_t small,
               std::uint8_t* labels) const;
  /// As nearest_of.
  void nearest(const CellRow& row, const std::uint8_t* tiers, int width, std::uint8_t* labels) const;

 private:
  [[nodiscard]] Targets targets() const {
    return {columns_[0].data(), columns_[1].data(), columns_[2].data(), columns_[0].size(), alone2_.data()};
  }
  std::array<std::vector<std::int16_t>, 3> columns_;
  std::vector<int> alone2_;
};

/// For each cell the colour (index in `colours`) that it surely has, or kNoLabel: flat cells, and cells that
/// come very near to a colour of small things, which may have no flat cell (those from `small` on).
std::vector<std::uint8_t> labels_of(const Cells& cells, const FlatTest& flat, const std::vector<Lab>& colours,
                                    std::size_t small, Executor& executor);

/// How many cells bear each label.
std::array<std::size_t, 256> count_labels(const std::vector<std::uint8_t>& labels, Executor& executor);

/// For each cell the colour that it comes nearest to, or kNoLabel where none is within some ten Lab units.
std::vector<std::uint8_t> nearest_of(const Cells& cells, const FlatTest& flat,
                                     const std::vector<Lab>& colours, Executor& executor);

/// What is known of the colour of each cell.
struct CellColours {
  const std::vector<std::uint8_t>& sure;     ///< the colour that it has, as labels_of gives it
  const std::vector<std::uint8_t>& nearest;  ///< the one that it comes nearest to, as nearest_of gives it
};

/// Joins colours whose flat cells lie side by side without an edge between them: the weave, fibres or wash of
/// one colour. Colours more than 15 dE00 apart stay, and such as have each an interior (`interiors` as
/// interior_means gives them) of another colour. False when there are none to join.
bool join_touching(FlatColours& flats, const Cells& cells, const FlatTest& flat,
                   const std::vector<std::uint8_t>& labels, const std::vector<std::optional<Lab>>& interiors,
                   Executor& executor);

}  // namespace kithue::extract
