// SPDX-License-Identifier: MIT
#include "icc/light_grid.h"

#include <algorithm>
#include <cmath>
#include <cstddef>

namespace kithue {

double LightGrid::root(double light) noexcept {
  constexpr double kDelta = 6.0 / 29.0;
  return light > kDelta * kDelta * kDelta ? std::cbrt(light) : light / (3.0 * kDelta * kDelta) + 4.0 / 29.0;
}

float LightGrid::light_from_root(float root) noexcept {
  constexpr float kDelta = 6.0F / 29.0F;
  return root > kDelta ? root * root * root : 3.0F * kDelta * kDelta * (root - 4.0F / 29.0F);
}

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
    out[k] = light_from_root(w0 * p0[k] + w1 * p1[k] + w2 * p2[k] + w3 * p3[k]);
  }
}

float LightGrid::brightest() const noexcept {
  float largest = 0.0F;
  for (std::size_t i = 1; i < samples_.size(); i += 3) largest = std::max(largest, samples_[i]);
  return light_from_root(largest);
}

}  // namespace kithue
