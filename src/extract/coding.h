// SPDX-License-Identifier: MIT
#pragma once

#include <array>

#include "colour/lab.h"
#include "colour/matrix.h"

namespace kithue::extract {

/// Three numbers proportional to light, in the picture's own primaries.
using Light = std::array<double, 3>;

Lab lab_from_light(const Light& light, const Matrix3& to_xyz) noexcept;
Light light_from_lab(const Lab& lab, const Matrix3& from_xyz) noexcept;

/// Y', Cb', Cr' as JPEG keeps a colour: ITU-R BT.601 as JFIF uses it, on the scale where white has Y' = 1,
/// the differences centred on 0. The picture's own primaries are coded by the curve of sRGB.
using Coded = std::array<double, 3>;

Coded coded_of(const Light& light) noexcept;
/// The same; `slope` is what each channel's coding grows by for a little more light.
Coded coded_of(const Light& light, std::array<double, 3>& slope) noexcept;
/// The way back. Light that would be negative comes out as 0.
Light light_of(const Coded& value) noexcept;

}  // namespace kithue::extract
