// SPDX-License-Identifier: MIT
#pragma once

#include <string>

#include "colour/lab.h"
#include "colour/matrix.h"

namespace kithue {

/// RGB with the sRGB primaries, proportional to light. In gamut: every channel 0 to 1.
struct LinearRgb {
  double r = 0.0;
  double g = 0.0;
  double b = 0.0;
};

/// The white of sRGB: D65 from its chromaticity x = 0.3127, y = 0.3290 (IEC 61966-2-1).
inline constexpr Xyz kSrgbWhite{0.3127 / 0.3290, 1.0, (1.0 - 0.3127 - 0.3290) / 0.3290};

/// One channel, coded 0-1 to light and back. Source: IEC 61966-2-1. Odd around zero, so that colours
/// outside the gamut keep their sign.
double light_from_coded(double coded) noexcept;
double coded_from_light(double light) noexcept;

/// The matrix from linear RGB with the given primaries and white (CIE 1931 xy) to XYZ under that white.
/// REQUIRES: primaries that are not on one line, white y above 0.
struct Chromaticity {
  double x = 0.0;
  double y = 0.0;
};
Matrix3 rgb_to_xyz(Chromaticity red, Chromaticity green, Chromaticity blue, Chromaticity white) noexcept;

/// Linear sRGB to XYZ under D50: the primaries of IEC 61966-2-1, adapted by Bradford. Grey in gives
/// a* = b* = 0 to 1e-12.
const Matrix3& srgb_to_d50() noexcept;

Lab lab_from_rgb(const LinearRgb& rgb) noexcept;
LinearRgb rgb_from_lab(const Lab& lab) noexcept;

/// True when an sRGB screen can show the colour: every linear channel within 0-1, give or take 1e-5.
bool in_srgb_gamut(const Lab& lab) noexcept;

/// The nearest colour an sRGB screen can show at the same lightness and hue: chroma is reduced until it fits.
/// A colour already inside is returned unchanged.
Lab into_srgb_gamut(const Lab& lab) noexcept;

/// Three bytes for a screen, in gamut by into_srgb_gamut.
struct Rgb8 {
  unsigned char r = 0;
  unsigned char g = 0;
  unsigned char b = 0;
  friend bool operator==(const Rgb8&, const Rgb8&) = default;
};
Rgb8 screen_rgb(const Lab& lab) noexcept;
/// "#c8553d".
std::string hex_from_lab(const Lab& lab);

}  // namespace kithue
