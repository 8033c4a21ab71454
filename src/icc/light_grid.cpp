// SPDX-License-Identifier: MIT
#include "icc/light_grid.h"

#include <algorithm>
#include <cstddef>

namespace kithue {

void LightGrid::light(float r, float g, float b, float* out) const noexcept {
  const auto side = static_cast<std::size_t>(side_);
  const std::array<std::size_t, 3> stride{side * side * 3, side * 3, 3};
  const std::array<float, 3> coded{r, g, b};
  std::array<float, 3> part{};
  std::array<std::size_t, 3> order{0, 1, 2};
  std::size_t corner = 0;
  for (std::size_t k = 0; k < 3; ++k) {
    const float place = coded[k] * static_cast<float>(side_ - 1);
    const std::size_t cell = std::min(static_cast<std::size_t>(place), side - 2);
    part[k] = place - static_cast<float>(cell);
    corner += cell * stride[k];
  }
  // Walk from the low corner to the high one along the axes, the largest part first.
  if (part[order[0]] < part[order[1]]) std::swap(order[0], order[1]);
  if (part[order[1]] < part[order[2]]) std::swap(order[1], order[2]);
  if (part[order[0]] < part[order[1]]) std::swap(order[0], order[1]);
  const float* p0 = samples_.data() + corner;
  const float* p1 = p0 + stride[order[0]];
  const float* p2 = p1 + stride[order[1]];
  const float* p3 = p2 + stride[order[2]];
  const float w0 = 1.0F - part[order[0]];
  const float w1 = part[order[0]] - part[order[1]];
  const float w2 = part[order[1]] - part[order[2]];
  const float w3 = part[order[2]];
  for (std::size_t k = 0; k < 3; ++k) {
    const float root = w0 * p0[k] + w1 * p1[k] + w2 * p2[k] + w3 * p3[k];
    out[k] = root * root * root;
  }
}

}  // namespace kithue
