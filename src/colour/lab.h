// SPDX-License-Identifier: MIT
#pragma once

namespace kithue {

/// A surface colour in CIE 1976 L*a*b*, seen under D50 by the 2 degree observer.
/// Values for another white are adapted on the way in (adapt.h); nothing past that point asks which white.
/// Source: ISO/CIE 11664-4:2019; D50 white as in ICC.1:2022.
struct Lab {
  double L = 0.0;  ///< lightness: 0 = no light returned, 100 = the white itself
  double a = 0.0;  ///< green (-) to red (+); 0 is neutral; inks stay within about +-100
  double b = 0.0;  ///< blue (-) to yellow (+); 0 is neutral; inks stay within about +-120
  friend bool operator==(const Lab&, const Lab&) = default;
};

/// Lab in polar form.
struct Lch {
  double L = 0.0;            ///< lightness, as in Lab
  double C = 0.0;            ///< chroma: distance from the neutral axis, 0 or more
  double hue_degrees = 0.0;  ///< 0 up to but not including 360, anticlockwise from +a; 0 when chroma is 0
  friend bool operator==(const Lch&, const Lch&) = default;
};

/// CIE 1931 tristimulus values on the scale where the white has Y = 1.
struct Xyz {
  double X = 0.0;
  double Y = 0.0;
  double Z = 0.0;
  friend bool operator==(const Xyz&, const Xyz&) = default;
};

/// The one D50 white of the program. Source: ICC.1:2022, 7.2.16 (profile connection space illuminant).
inline constexpr Xyz kD50{0.9642, 1.0, 0.8249};

/// ISO/CIE 11664-4 for the given white, D50 if none is named. Any finite value in; NaN in gives NaN.
Lab lab_from_xyz(const Xyz& xyz, const Xyz& white = kD50) noexcept;
Xyz xyz_from_lab(const Lab& lab, const Xyz& white = kD50) noexcept;

Lch lch_from_lab(const Lab& lab) noexcept;
Lab lab_from_lch(const Lch& lch) noexcept;

/// Chroma of a Lab colour: hypot(a, b).
double chroma(const Lab& lab) noexcept;
/// Hue angle in degrees, 0 up to but not including 360; 0 for a neutral.
double hue_degrees(const Lab& lab) noexcept;
/// The smaller angle between two hues, 0 to 180 degrees.
double hue_gap_degrees(double hue1, double hue2) noexcept;

}  // namespace kithue
