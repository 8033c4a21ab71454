// SPDX-License-Identifier: MIT
#pragma once

#include <array>
#include <vector>

namespace kithue {

/// A cube of samples between coded RGB and light, for profiles that are tables.
/// Light here is XYZ divided by the D50 white. The samples hold its CIELAB root (cube root, straight near 0),
/// which runs almost straight along the coded axes, so that interpolation costs little in the darks.
class LightGrid {
 public:
  /// `samples`: side^3 triples, blue running fastest. REQUIRES: side >= 2.
  LightGrid(int side, std::vector<float> samples) : side_(side), samples_(std::move(samples)) {}
  /// f of ISO/CIE 11664-4, for any finite light, and its inverse.
  static double root(double light) noexcept;
  static float light_from_root(float root) noexcept;
  /// Coded values 0-1 to light, by tetrahedral interpolation.
  void light(float r, float g, float b, float* out) const noexcept;
  [[nodiscard]] int side() const noexcept { return side_; }
  /// The largest Y among the samples.
  [[nodiscard]] float brightest() const noexcept;

 private:
  int side_;
  std::vector<float> samples_;
};

}  // namespace kithue
