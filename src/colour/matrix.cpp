// SPDX-License-Identifier: MIT
#include "colour/matrix.h"

#include <cstddef>

namespace kithue {

std::array<double, 3> times(const Matrix3& m, const std::array<double, 3>& v) noexcept {
  std::array<double, 3> out{};
  for (std::size_t i = 0; i < 3; ++i) out[i] = m.row[i][0] * v[0] + m.row[i][1] * v[1] + m.row[i][2] * v[2];
  return out;
}

Matrix3 product(const Matrix3& left, const Matrix3& right) noexcept {
  Matrix3 out;
  for (std::size_t i = 0; i < 3; ++i) {
    for (std::size_t j = 0; j < 3; ++j) {
      out.row[i][j] = left.row[i][0] * right.row[0][j] + left.row[i][1] * right.row[1][j] +
                      left.row[i][2] * right.row[2][j];
    }
  }
  return out;
}

double determinant(const Matrix3& m) noexcept {
  const auto& r = m.row;
  return r[0][0] * (r[1][1] * r[2][2] - r[1][2] * r[2][1]) -
         r[0][1] * (r[1][0] * r[2][2] - r[1][2] * r[2][0]) +
         r[0][2] * (r[1][0] * r[2][1] - r[1][1] * r[2][0]);
}

Matrix3 inverse(const Matrix3& m) noexcept {
  const double scale = 1.0 / determinant(m);
  const auto cofactor = [&m](std::size_t i, std::size_t j) {
    const auto& p = m.row[(i + 1) % 3];
    const auto& q = m.row[(i + 2) % 3];
    return p[(j + 1) % 3] * q[(j + 2) % 3] - p[(j + 2) % 3] * q[(j + 1) % 3];
  };
  Matrix3 out;
  for (std::size_t i = 0; i < 3; ++i) {
    for (std::size_t j = 0; j < 3; ++j) out.row[i][j] = cofactor(j, i) * scale;
  }
  return out;
}

}  // namespace kithue
