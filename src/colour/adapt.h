// SPDX-License-Identifier: MIT
#pragma once

#include "colour/lab.h"
#include "colour/matrix.h"

namespace kithue {

/// The matrix that takes XYZ under `from` to the XYZ that looks alike under `to`: the linear Bradford
/// transform. Maps `from` to `to` exactly up to rounding.
/// Source: Lam 1985 as printed in ICC.1:2022, Annex E. REQUIRES: whites with positive coordinates.
Matrix3 bradford(const Xyz& from, const Xyz& to) noexcept;

/// XYZ adapted from one white to another by Bradford.
Xyz adapted(const Xyz& xyz, const Xyz& from, const Xyz& to) noexcept;

/// Lab relative to `white` as the Lab of the same colour seen under D50, 2 degrees.
/// Between observers this is an approximation: only a spectrum can be re-integrated exactly.
Lab lab_d50_from(const Lab& lab, const Xyz& white) noexcept;

}  // namespace kithue
