// SPDX-License-Identifier: MIT
#pragma once

#include <array>
#include <vector>

namespace kithue {

/// A cube of samples between coded RGB and light, for profiles that are tables.
/// Light here is XYZ divided by the D50 white. The samples hold its cube root, which runs almost straight
/// along the coded axes, so that interpolation costs little accuracy in the darks.
class LightGrid {
 public:
  /// `samples`: side^3 triples, blue running fastest. REQUIRES: side >= 2.
  LightGrid(int side, std::vector<float> samples) : side_(side), samples_(std::move(samples)) {}
  /// Coded values 0-1 to light, by tetrahedral interpolation.
  void light(float r, float g, float b, float* out) const noexcept;
  [[nodiscard]] int side() const noexcept { return side_; }

 private:
  int side_;
  std::vector<float> samples_;
};

}  // namespace kithue
