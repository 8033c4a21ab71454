// SPDX-License-Identifier: MIT
#pragma once

#include <span>
#include <string>
#include <string_view>
#include <vector>

#include "colour/illuminants.h"
#include "colour/lab.h"

namespace kithue {

/// Reflectance factors at even steps. 1 = the perfect reflecting diffuser; a little over with brightener.
struct Spectrum {
  std::span<const double> values;  ///< one or more
  double start_nm = 0.0;
  double step_nm = 0.0;  ///< above 0
  [[nodiscard]] double end_nm() const {
    return start_nm + step_nm * static_cast<double>(values.empty() ? 0 : values.size() - 1);
  }
};

enum class Observer { two_degrees, ten_degrees };  ///< CIE 1931 and CIE 1964

/// The spectrum at 380, 385, ... 780 nm. Between the given wavelengths by Lagrange's polynomial through the
/// four nearest (three at an end), as ASTM E2022 does; beyond the ends level with the last value, as ASTM
/// E308 does: never zero. REQUIRES: values.size() >= 1, step_nm > 0.
Power resampled(const Spectrum& spectrum) noexcept;

/// The part of the white's X, Y or Z under D50, 2 degrees, the largest of the three, that lies beyond the
/// ends of the spectrum, where `resampled` goes on level. 0 for 380 to 780 nm, 0.004 for 400 to 700 nm.
double share_beyond(const Spectrum& spectrum) noexcept;

/// Sums of ASTM E308 over the 5 nm tables. The perfect diffuser has Y = 1.
Xyz xyz_from_power(const Power& reflectance, const Illuminant& light, Observer observer) noexcept;
/// The white of those sums: what the perfect diffuser gives.
Xyz white_of(const Illuminant& light, Observer observer) noexcept;
/// Lab of a reflectance under a light, relative to that light's own white.
Lab lab_under(const Power& reflectance, const Illuminant& light, Observer observer) noexcept;

/// The stored form: Lab under D50, 2 degrees.
Lab lab_from_spectrum(const Spectrum& spectrum) noexcept;

}  // namespace kithue
