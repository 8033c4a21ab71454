// SPDX-License-Identifier: MIT
#pragma once

#include <cstddef>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "swatch/swatch.h"

namespace kithue {

/// Steps that an instrument's spectrum may have.
inline constexpr double kLeastStepNm = 1.0;
inline constexpr double kMostStepNm = 20.0;
/// A spectrum with more than this part of the light beyond its ends (share_beyond) is not taken. Ours.
inline constexpr double kMostBeyond = 0.1;
/// Above this no reflectance factor is believed; fluorescent inks reach about 2. Ours.
inline constexpr double kMostFactor = 3.0;

/// The wavelength that a column's name speaks of: "SPECTRAL_NM_400", "SPEC_403.3", "nm400", "400nm", "R400".
/// Nothing for other names; a bare number is left to the caller.
std::optional<double> wavelength_in(std::string_view name);

/// The columns of a spectrum in order of wavelength.
struct SpectralColumns {
  std::vector<std::size_t> columns;
  double start_nm = 0.0;
  double step_nm = 0.0;
  double whole = 1.0;   ///< what a reflectance of 1 is written as: 1, or 100 in percent
  std::string trouble;  ///< why they make no spectrum ("no column for 420 nm"), or empty
};

/// Puts them in order and finds the step. Names rounded to whole nanometres (350, 353, 357, 360) are steps of
/// a third. A gap, a repeated wavelength or a step outside 1 to 20 nm is `trouble`.
SpectralColumns spectral_columns(const std::vector<std::string>& names,
                                 const std::vector<std::size_t>& columns);

/// Gives the reading its spectrum's Lab under D50, 2 degrees, and says so. `reading.spectrum` is set.
void integrate(Reading& reading);

/// "400 to 700 nm by 10 nm".
std::string range_words(const Reading& reading);

}  // namespace kithue
