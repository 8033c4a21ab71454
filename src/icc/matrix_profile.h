// SPDX-License-Identifier: MIT
#pragma once

#include <string>

#include "colour/matrix.h"

namespace kithue {

/// An ICC profile for RGB whose light, coded with the sRGB curve, goes to XYZ under D50 by the matrix.
/// Always the same bytes for the same matrix. Source: ICC.1:2022 (version 4.4), section 8.3.3; the curve is
/// that of IEC 61966-2-1 as a parametric curve of type 3.
std::string matrix_profile(const Matrix3& to_xyz);

}  // namespace kithue
