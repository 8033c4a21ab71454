// SPDX-License-Identifier: MIT
#include "extract/cells.h"

#include <algorithm>
#include <array>
#include <vector>

#include "extract/row_work.h"

namespace kithue::extract {
namespace {

constexpr int kSmallSide = 96;

/// To X, Y, Z over the white.
LightMatrix over_white(const Matrix3& to_xyz) {
  const std::array<double, 3> white{kD50.X, kD50.Y, kD50.Z};
  LightMatrix out{};
  for (std::size_t i = 0; i < 3; ++i) {
    for (std::size_t j = 0; j < 3; ++j) out.m[i][j] = static_cast<float>(to_xyz.row[i][j] / white[i]);
  }
  return out;
}

/// A row of single pixels, each kind of light in a row of its own.
void read_whole(const LightRows& picture, int y, std::vector<float>& all,
                std::array<std::vector<float>, 3>& rows) {
  const std::size_t count = rows[0].size();
  all.resize(3 * count);
  picture.read(0, y, static_cast<int>(count), all.data());
  for (std::size_t x = 0; x < count; ++x) {
    for (std::size_t c = 0; c < 3; ++c) rows[c][x] = all[3 * x + c];
  }
}

}  // namespace

Lab lab_of(const CellLab& cell) noexcept {
  constexpr double kUnit = 1.0 / kSteps;
  return {cell.L * kUnit, cell.a * kUnit, cell.b * kUnit};
}

Cells cells_of(const LightRows& picture, Executor& executor) {
  Cells cells;
  cells.side = std::min(picture.width(), picture.height()) < kSmallSide ? 1 : 2;
  cells.width = picture.width() / cells.side;
  cells.height = picture.height() / cells.side;
  // Not filled with zeros: every cell is written below, by the thread that touches its memory first.
  cells.L = std::make_unique_for_overwrite<std::int16_t[]>(cells.count());
  cells.a = std::make_unique_for_overwrite<std::int16_t[]>(cells.count());
  cells.b = std::make_unique_for_overwrite<std::int16_t[]>(cells.count());
  const LightMatrix matrix = over_white(picture.to_xyz());
  const RowWork& work = row_work();
  executor.run(bands(cells.height), [&](std::size_t band) {
    const int first = static_cast<int>(band) * kBand;
    const int last = std::min(first + kBand, cells.height);
    const auto count = static_cast<std::size_t>(cells.width);
    std::array<std::vector<float>, 3> rows;
    for (auto& row : rows) row.resize(count);
    std::vector<float> all;
    for (int y = first; y < last; ++y) {
      if (cells.side == 1) {
        read_whole(picture, y, all, rows);
      } else {
        picture.read_halved(0, 2 * y, cells.width, rows[0].data(), rows[1].data(), rows[2].data());
      }
      const std::size_t start = cells.at(0, y);
      work.lab_from_light(rows[0].data(), rows[1].data(), rows[2].data(), matrix, count,
                          cells.L.get() + start, cells.a.get() + start, cells.b.get() + start);
    }
  });
  return cells;
}

}  // namespace kithue::extract
