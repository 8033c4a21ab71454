// SPDX-License-Identifier: MIT
#pragma once

#include <array>
#include <string>
#include <vector>

#include "colour/illuminants.h"
#include "colour/lab.h"
#include "colour/matrix.h"

namespace kithue::accuracy {

/// Reflectances at 380, 385, ... 780 nm. Reads lines of a name and 81 numbers; more numbers are left out,
/// lines that begin with # too. Empty when the file cannot be read.
std::vector<Power> papers_of(const std::string& path);

/// A camera by its sensitivities: three bell curves, or with `eye` the CIE 1931 observer itself.
struct SpectralCamera {
  std::string name;
  bool eye = false;
  std::array<double, 3> peak_nm{600.0, 540.0, 460.0};
  std::array<double, 3> width_nm{38.0, 42.0, 28.0};  ///< standard deviation
};

/// A light seen by a camera. `balance` is how far its white balance follows the light: 1 = whites come out
/// white, 0 = it takes every light for D65. The camera's matrix to XYZ is fitted under D65 on `papers`.
class LightAndCamera {
 public:
  LightAndCamera(const SpectralCamera& camera, const Illuminant& light, double balance,
                 const std::vector<Power>& papers);
  /// XYZ that the photo shows, where D50 is white, Y = 1.
  [[nodiscard]] std::array<double, 3> seen(const Power& reflectance) const;

 private:
  [[nodiscard]] std::array<double, 3> raw(const Power& reflectance, const Illuminant& light) const;
  SpectralCamera camera_;
  const Illuminant& light_;
  std::array<double, 3> gain_{};
  Matrix3 to_xyz_;
};

/// What a reflectance is: Lab under D50.
Lab true_lab(const Power& reflectance);

}  // namespace kithue::accuracy
