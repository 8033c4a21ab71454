// SPDX-License-Identifier: MIT
#include "extract/cells.h"

#include <algorithm>
#include <array>
#include <cmath>

namespace kithue::extract {
namespace {

constexpr int kSmallSide = 96;
constexpr int kTableSize = 8192;
constexpr float kTableTop = 2.0F;  // light above the white is kept up to here

/// The f of CIELAB as a table with straight lines between its places: error below 0.002 of a Lab unit.
struct LightnessTable {
  std::array<float, kTableSize + 2> f{};
  LightnessTable() {
    for (std::size_t i = 0; i < f.size(); ++i) {
      const double t = static_cast<double>(i) * static_cast<double>(kTableTop) / kTableSize;
      f[i] = static_cast<float>((lab_from_xyz({0.0, t, 0.0}, {1.0, 1.0, 1.0}).L + 16.0) / 116.0);
    }
  }
  [[nodiscard]] float at(float t) const noexcept {
    const float place = std::min(std::max(t, 0.0F), kTableTop) * (kTableSize / kTableTop);
    const auto index = static_cast<std::size_t>(place);
    const float low = f[index];
    return low + (place - static_cast<float>(index)) * (f[index + 1] - low);
  }
};

std::int16_t stepped(float value) noexcept {
  const float steps = std::min(std::max(value * kSteps, -32000.0F), 32000.0F);
  return static_cast<std::int16_t>(std::lrintf(steps));
}

/// Rows of light to one row of cells.
class CellMaker {
 public:
  explicit CellMaker(const Matrix3& to_xyz) {
    const std::array<double, 3> white{kD50.X, kD50.Y, kD50.Z};
    for (std::size_t i = 0; i < 3; ++i) {
      for (std::size_t j = 0; j < 3; ++j) matrix_[i][j] = static_cast<float>(to_xyz.row[i][j] / white[i]);
    }
  }
  [[nodiscard]] CellLab cell(float r, float g, float b) const noexcept {
    static const LightnessTable table;
    std::array<float, 3> f{};
    for (std::size_t i = 0; i < 3; ++i) {
      f[i] = table.at(matrix_[i][0] * r + matrix_[i][1] * g + matrix_[i][2] * b);
    }
    return {stepped(116.0F * f[1] - 16.0F), stepped(500.0F * (f[0] - f[1])), stepped(200.0F * (f[1] - f[2]))};
  }

 private:
  std::array<std::array<float, 3>, 3> matrix_{};
};

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
  cells.lab.resize(static_cast<std::size_t>(cells.width) * static_cast<std::size_t>(cells.height));
  const CellMaker maker(picture.to_xyz());
  executor.run(bands(cells.height), [&](std::size_t band) {
    const int first = static_cast<int>(band) * kBand;
    const int last = std::min(first + kBand, cells.height);
    const int pixels = cells.width * cells.side;
    std::vector<float> upper(static_cast<std::size_t>(pixels) * 3);
    std::vector<float> lower(static_cast<std::size_t>(pixels) * 3);
    for (int y = first; y < last; ++y) {
      CellLab* out = cells.lab.data() + static_cast<std::size_t>(y) * static_cast<std::size_t>(cells.width);
      picture.read(0, y * cells.side, pixels, upper.data());
      if (cells.side == 1) {
        for (int x = 0; x < cells.width; ++x) {
          const float* p = upper.data() + static_cast<std::ptrdiff_t>(x) * 3;
          out[x] = maker.cell(p[0], p[1], p[2]);
        }
        continue;
      }
      picture.read(0, y * 2 + 1, pixels, lower.data());
      for (int x = 0; x < cells.width; ++x) {
        const float* p = upper.data() + static_cast<std::ptrdiff_t>(x) * 6;
        const float* q = lower.data() + static_cast<std::ptrdiff_t>(x) * 6;
        out[x] = maker.cell(0.25F * (p[0] + p[3] + q[0] + q[3]), 0.25F * (p[1] + p[4] + q[1] + q[4]),
                            0.25F * (p[2] + p[5] + q[2] + q[5]));
      }
    }
  });
  return cells;
}

}  // namespace kithue::extract
