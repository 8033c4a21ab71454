// SPDX-License-Identifier: MIT
#pragma once

#include <array>
#include <cstddef>

#include "colour/lab.h"

namespace kithue {

/// Reflectance factors at 380, 390, ... 730 nm.
inline constexpr std::size_t kBands = 36;
using Curve = std::array<double, kBands>;

/// XYZ under D50, 2 degrees, of a curve: weights for 10 nm bands, the spectrum taken as linear between bands.
/// Source: weighted sums of CIE 018:2019 (1931 observer) and CIE 015:2018 (D50), 5 nm tables.
Xyz xyz_from_curve(const Curve& curve) noexcept;
/// XYZ of the curve that is 1 everywhere: the white that goes with these weights.
const Xyz& white_of_curves() noexcept;
Lab lab_from_curve(const Curve& curve) noexcept;

/// A reflectance curve that has the given colour: the smoothest one between 0 and 1 (least hyperbolic tangent
/// slope squared, LHTSS). It is one of many: it says nothing about how the colour holds in another light.
/// Range: every value above 0 and below 1.
/// A colour that no such curve has (lighter than white, too vivid for a surface) is drawn towards grey of its
/// lightness until one exists.
/// Source: Burns, S. A., "Numerical methods for smoothest reflectance reconstruction", Color Res. Appl.
/// 45(1), 8-21 (2020), doi:10.1002/col.22437. REQUIRES: finite coordinates.
Curve curve_from_lab(const Lab& lab) noexcept;

}  // namespace kithue
