// SPDX-License-Identifier: MIT
#pragma once

#include <cstddef>
#include <cstdint>
#include <utility>
#include <vector>

#include "base/executor.h"
#include "base/large_block.h"
#include "colour/lab.h"
#include "colour/light_rows.h"

namespace kithue::extract {

/// Lab steps a unit in a cell: fine enough that rounding (0.004) never shows, small enough for memory.
inline constexpr int kSteps = 128;

/// Lab of one cell in steps of 1 / kSteps.
struct CellLab {
  std::int16_t L = 0;
  std::int16_t a = 0;
  std::int16_t b = 0;
};
Lab lab_of(const CellLab& cell) noexcept;

/// A row of cells: the three coordinates lie apart, so that many cells can be worked on at a time.
struct CellRow {
  const std::int16_t* L = nullptr;
  const std::int16_t* a = nullptr;
  const std::int16_t* b = nullptr;
  [[nodiscard]] CellLab operator[](std::ptrdiff_t x) const noexcept { return {L[x], a[x], b[x]}; }
};

/// A picture as means of small squares, made in linear light, in Lab. Of a large picture not all rows are
/// there: one run of rows in `every` times as many, at places that fall in with no pattern. That is enough to
/// see the colours of whatever repeats, and keeps short whatever looks at all cells.
struct Cells {
  int width = 0;
  int height = 0;        ///< rows that are there
  int whole_height = 0;  ///< rows that the whole picture has
  int run = 16;          ///< rows in a run
  int every = 1;
  int side = 1;                                           ///< pixels a cell: 1 or 2
  std::int16_t *L = nullptr, *a = nullptr, *b = nullptr;  ///< width * height steps each, rows from the top
  LargeBlock memory;                                      ///< of these three
  [[nodiscard]] std::size_t at(int x, int y) const noexcept {
    return static_cast<std::size_t>(y) * static_cast<std::size_t>(width) + static_cast<std::size_t>(x);
  }
  [[nodiscard]] std::size_t count() const noexcept { return at(0, height); }
  [[nodiscard]] CellRow row(int y) const noexcept {
    const std::size_t start = at(0, y);
    return {L + start, a + start, b + start};
  }
  /// The rows around y that lie side by side in the picture: from run_top to before run_end.
  [[nodiscard]] int run_top(int y) const noexcept { return every == 1 ? 0 : y - y % run; }
  [[nodiscard]] int run_end(int y) const noexcept {
    return every == 1 || y - y % run + run > height ? height : y - y % run + run;
  }
  /// Which row of the whole picture's cells row y is.
  [[nodiscard]] int place(int y) const noexcept {
    return every == 1 ? y : y / run * run * every + offset(y / run) + y % run;
  }
  [[nodiscard]] int pixel_row(int y) const noexcept { return place(y) * side; }
  /// The row in which a row of pixels lies, or -1 when it is not there.
  [[nodiscard]] int row_at(int pixel_y) const noexcept {
    const int whole = pixel_y / side;
    const int number = whole / (run * every);
    const int within = whole % (run * every) - offset(number);
    const int y = every == 1 ? whole : number * run + within;
    return (every > 1 && (within < 0 || within >= run)) || y >= height ? -1 : y;
  }
  /// Rows of the whole picture that are left out before a run, of those that it stands for.
  [[nodiscard]] int offset(int number) const noexcept {
    const int step = run % 8 == 0 ? 8 : 1;  // keeps long runs on whole blocks of 16 x 16 pixels
    if (every == 1 || (number + 1) * run * every > whole_height) return 0;
    // As if by lot, but always the same: the factors are those of 6000 tried under which stripes of any
    // period from 8 to 200 rows come out most evenly.
    auto lot = (static_cast<std::uint32_t>(number) + 1U) * 0x7fbc5517U;
    lot = (lot ^ lot >> 15U) * 0xc5f5d8ebU;
    return static_cast<int>((lot >> 20U) % static_cast<std::uint32_t>(run * (every - 1) / step + 1)) * step;
  }
  /// Where the middle of row y lies: 0 to 1 from the top of the picture.
  [[nodiscard]] double down(int y) const noexcept { return (place(y) + 0.5) / whole_height; }
};

/// Which rows of cells are made: see Cells.
struct RowPlan {
  int run = 16;
  int every = 1;
};
/// As many as colours are found in: all, of a large picture a part.
RowPlan rows_for_colours(const LightRows& picture) noexcept;
/// Single rows, close together all over a large picture.
RowPlan single_rows(const LightRows& picture) noexcept;

/// A number for a cell as if by lot, but always the same: whoever takes a part of many cells by it falls in
/// with no pattern. 12 bits.
inline std::uint32_t lot_of(int x, int y) noexcept {
  const auto lot = static_cast<std::uint32_t>(x) * 0x9e3779b1U + static_cast<std::uint32_t>(y) * 0x85ebca77U;
  return ((lot >> 15U) * 0x2c1b3c6dU) >> 20U;
}

/// Makes the cells of a picture, a band of rows a job. Halves the picture by averaging 2 x 2 pixels in linear
/// light; a picture under 96 pixels a side is taken as it is. An odd last row or column is left out.
class CellMaker {
 public:
  /// How many rows of pixels each job needs. `picture` must stay where it is.
  std::vector<int> begin(const LightRows& picture, const RowPlan& plan);
  void take(std::size_t job);
  /// What was made. REQUIRES: every job was done.
  Cells result() { return std::move(cells_); }

 private:
  const LightRows* picture_ = nullptr;
  Cells cells_;
};

Cells cells_of(const LightRows& picture, const RowPlan& plan, Executor& executor);

/// Rows of cells that one job takes.
inline constexpr int kBand = 64;
inline std::size_t bands(int height) noexcept {
  return static_cast<std::size_t>((height + kBand - 1) / kBand);
}

}  // namespace kithue::extract
