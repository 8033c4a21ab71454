// SPDX-License-Identifier: MIT
#pragma once

#include <cstddef>
#include <cstdint>
#include <span>
#include <string_view>

#include "extract/cells.h"

namespace kithue::extract {

/// Squared distance of two cells in steps; a* and b* count half, for they carry more noise and JPEG keeps
/// them at half size.
inline int gap2(const CellLab& p, const CellLab& q) noexcept {
  const int dL = p.L - q.L;
  const int da = (p.a - q.a) / 2;
  const int db = (p.b - q.b) / 2;
  return dL * dL + da * da + db * db;
}

/// Linear RGB (or XYZ) over the white: what takes three amounts of light to X, Y, Z as parts of the white.
struct LightMatrix {
  float m[3][3];
};

/// The rows that judge_flat looks at: the cell's own and its neighbours, and those a few cells off.
struct FlatRows {
  CellRow above, here, below, far_above, far_below;
};

/// Colours that cells are compared with: a column a coordinate, in steps.
struct Targets {
  const std::int16_t* L = nullptr;
  const std::int16_t* a = nullptr;
  const std::int16_t* b = nullptr;
  std::size_t count = 0;  ///< at most 254
  /// A cell with a smaller gap to a target than this has no nearer one; null: not known, every target is
  /// tried.
  const int* alone2 = nullptr;
};

/// Work on a row of cells, as many at a time as the machine takes. Each way of doing it gives the same bits:
/// whole numbers, and additions, multiplications and divisions of floats in one order, lane by lane.
struct RowWork {
  std::string_view name;  ///< "baseline", "AVX2"

  /// `count` cells from planes of linear light, 0 to 2 of the white (beyond is cut). CIELAB after ISO/CIE
  /// 11664-4 in single precision: within 0.0005 of a unit, then rounded to steps.
  void (*lab_from_light)(const float* r, const float* g, const float* b, const LightMatrix& matrix,
                         std::size_t count, std::int16_t* L, std::int16_t* a, std::int16_t* out_b);

  /// Multiplies L* + 16, a* and b* of cell x by grow[x / 32].
  void (*grow)(const float* grow, std::size_t count, std::int16_t* L, std::int16_t* a, std::int16_t* b);

  /// Tiers (see FlatTest) of cells 1 to width - 2. `limit2`: of four tiers, rising.
  void (*judge_flat)(const FlatRows& rows, int width, const int* limit2, std::uint8_t* tiers);

  /// The nearest target of each cell within `most2` (of a cell that is no target's: none), which the first
  /// of equals wins; a cell of tier `not_flat` has only the targets from `small` on, within `near2`.
  void (*nearest)(const CellRow& row, const std::uint8_t* tiers, int width, const Targets& targets,
                  std::size_t small, int most2, int near2, std::uint8_t* labels);
};

/// How far off the rows and columns lie that a small thing is compared with.
inline constexpr int kFarOff = 5;

/// Those that this machine can run, slowest first; for tests.
std::span<const RowWork* const> row_work_variants() noexcept;
/// The last of them.
const RowWork& row_work() noexcept;

}  // namespace kithue::extract
