// SPDX-License-Identifier: MIT
#pragma once

namespace kithue::extract {

/// f of CIELAB (ISO/CIE 11664-4) for light of 0 to 2 of the white; beyond is cut. In single precision, within
/// 3e-7, and the same bits on every machine: the cube root is a first guess from the exponent and two steps
/// after Halley. Always inlined, so that it may be compiled for several machines.
[[gnu::always_inline]] inline float root_of(float t) noexcept {
  t = t > 0.0F ? t : 0.0F;
  t = t < 2.0F ? t : 2.0F;
  const auto third = static_cast<int>(static_cast<float>(__builtin_bit_cast(int, t)) * (1.0F / 3.0F));
  float y = __builtin_bit_cast(float, third + 0x2a514067);
  float cube = y * y * y;
  y = y * (cube + (t + t)) / (cube + cube + t);
  cube = y * y * y;
  y = y * (cube + (t + t)) / (cube + cube + t);
  constexpr float kDelta = 6.0F / 29.0F;
  const float straight = t * (1.0F / (3.0F * kDelta * kDelta)) + 4.0F / 29.0F;
  return t > kDelta * kDelta * kDelta ? y : straight;
}

}  // namespace kithue::extract
