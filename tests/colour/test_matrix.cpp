// SPDX-License-Identifier: MIT
#include <doctest/doctest.h>

#include <cmath>
#include <cstddef>

#include "colour/matrix.h"
#include "colour/random_colours.h"

using namespace kithue;

namespace {

double distance(const Matrix3& m, const Matrix3& n) {
  double worst = 0.0;
  for (std::size_t i = 0; i < 3; ++i) {
    for (std::size_t j = 0; j < 3; ++j) worst = std::fmax(worst, std::fabs(m.row[i][j] - n.row[i][j]));
  }
  return worst;
}

}  // namespace

TEST_CASE("inverse: a case worked by hand") {
  const Matrix3 m{{{{2, 0, 1}, {0, 3, 0}, {4, 0, 5}}}};
  CHECK(determinant(m) == 18.0);
  const Matrix3 expected{{{{5.0 / 6, 0, -1.0 / 6}, {0, 1.0 / 3, 0}, {-2.0 / 3, 0, 1.0 / 3}}}};
  CHECK(distance(inverse(m), expected) < 1e-15);
}

TEST_CASE("inverse: times the matrix is the identity, on either side") {
  test::RandomColours random(5);
  for (int i = 0; i < 1000; ++i) {
    Matrix3 m;
    for (auto& row : m.row) {
      for (double& value : row) value = random.between(-1, 1);
    }
    if (std::fabs(determinant(m)) < 0.05) continue;
    CHECK(distance(product(inverse(m), m), Matrix3{}) < 1e-12);
    CHECK(distance(product(m, inverse(m)), Matrix3{}) < 1e-12);
  }
}

TEST_CASE("product: applies the right matrix first") {
  const Matrix3 swap{{{{0, 1, 0}, {1, 0, 0}, {0, 0, 1}}}};
  const Matrix3 scale{{{{2, 0, 0}, {0, 3, 0}, {0, 0, 4}}}};
  const std::array<double, 3> v{1, 10, 100};
  CHECK(times(product(swap, scale), v) == times(swap, times(scale, v)));
  CHECK(times(product(swap, scale), v) == std::array<double, 3>{30, 2, 400});
}
