// SPDX-License-Identifier: MIT
#pragma once

#include <cstddef>
#include <cstdint>
#include <memory>

#include "base/executor.h"
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

/// A picture as means of small squares, made in linear light, in Lab.
struct Cells {
  int width = 0;
  int height = 0;
  int side = 1;                             ///< pixels a cell: 1 or 2
  std::unique_ptr<std::int16_t[]> L, a, b;  ///< width * height steps each, rows from the top
  [[nodiscard]] std::size_t at(int x, int y) const noexcept {
    return static_cast<std::size_t>(y) * static_cast<std::size_t>(width) + static_cast<std::size_t>(x);
  }
  [[nodiscard]] std::size_t count() const noexcept { return at(0, height); }
  [[nodiscard]] CellRow row(int y) const noexcept {
    const std::size_t start = at(0, y);
    return {L.get() + start, a.get() + start, b.get() + start};
  }
};

/// Halves the picture by averaging 2 x 2 pixels in linear light; a picture under 96 pixels a side is taken
/// as it is. An odd last row or column is left out.
Cells cells_of(const LightRows& picture, Executor& executor);

/// Rows of cells that one job takes.
inline constexpr int kBand = 64;
inline std::size_t bands(int height) noexcept {
  return static_cast<std::size_t>((height + kBand - 1) / kBand);
}

}  // namespace kithue::extract
