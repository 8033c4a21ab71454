// SPDX-License-Identifier: MIT
#pragma once

#include <array>

namespace kithue {

/// Three rows of three: out = M * in.
struct Matrix3 {
  std::array<std::array<double, 3>, 3> row{{{1, 0, 0}, {0, 1, 0}, {0, 0, 1}}};
  friend bool operator==(const Matrix3&, const Matrix3&) = default;
};

std::array<double, 3> times(const Matrix3& m, const std::array<double, 3>& v) noexcept;
Matrix3 product(const Matrix3& left, const Matrix3& right) noexcept;
double determinant(const Matrix3& m) noexcept;
/// REQUIRES: determinant(m) is not 0.
Matrix3 inverse(const Matrix3& m) noexcept;

}  // namespace kithue
