// SPDX-License-Identifier: MIT
#pragma once

#include <algorithm>
#include <cmath>

#include "colour/lab.h"

namespace kithue_test {

/// The largest difference of a coordinate.
inline double distance(const kithue::Lab& x, const kithue::Lab& y) {
  return std::max({std::fabs(x.L - y.L), std::fabs(x.a - y.a), std::fabs(x.b - y.b)});
}

}  // namespace kithue_test
