// SPDX-License-Identifier: MIT
#include "colour/srgb.h"

#include <algorithm>
#include <cmath>

#include "colour/adapt.h"

namespace kithue {
namespace {

const Matrix3& d50_to_srgb() noexcept {
  static const Matrix3 matrix = inverse(srgb_to_d50());
  return matrix;
}

bool shows(const LinearRgb& rgb, double slack) noexcept {
  const auto fits = [slack](double light) { return light >= -slack && light <= 1.0 + slack; };
  return fits(rgb.r) && fits(rgb.g) && fits(rgb.b);
}

unsigned char byte_from_light(double light) noexcept {
  const double coded = coded_from_light(std::clamp(light, 0.0, 1.0));
  return static_cast<unsigned char>(std::lround(coded * 255.0));
}

}  // namespace

double light_from_coded(double coded) noexcept {
  const double size = std::fabs(coded);
  const double light = size <= 0.04045 ? size / 12.92 : std::pow((size + 0.055) / 1.055, 2.4);
  return std::copysign(light, coded);
}

double coded_from_light(double light) noexcept {
  const double size = std::fabs(light);
  const double coded = size <= 0.0031308 ? size * 12.92 : 1.055 * std::pow(size, 1.0 / 2.4) - 0.055;
  return std::copysign(coded, light);
}

Matrix3 rgb_to_xyz(Chromaticity red, Chromaticity green, Chromaticity blue, Chromaticity white) noexcept {
  // Columns proportional to each primary's XYZ, then scaled so that RGB = 1,1,1 gives the white.
  const Matrix3 columns{{{{red.x, green.x, blue.x},
                          {red.y, green.y, blue.y},
                          {1.0 - red.x - red.y, 1.0 - green.x - green.y, 1.0 - blue.x - blue.y}}}};
  const auto scale = times(inverse(columns), {white.x / white.y, 1.0, (1.0 - white.x - white.y) / white.y});
  Matrix3 out = columns;
  for (auto& row : out.row) {
    for (std::size_t j = 0; j < 3; ++j) row[j] *= scale[j];
  }
  return out;
}

const Matrix3& srgb_to_d50() noexcept {
  static const Matrix3 matrix = product(
      bradford(kSrgbWhite, kD50), rgb_to_xyz({0.64, 0.33}, {0.30, 0.60}, {0.15, 0.06}, {0.3127, 0.3290}));
  return matrix;
}

Lab lab_from_rgb(const LinearRgb& rgb) noexcept {
  const auto xyz = times(srgb_to_d50(), {rgb.r, rgb.g, rgb.b});
  return lab_from_xyz({xyz[0], xyz[1], xyz[2]});
}

LinearRgb rgb_from_lab(const Lab& lab) noexcept {
  const Xyz xyz = xyz_from_lab(lab);
  const auto rgb = times(d50_to_srgb(), {xyz.X, xyz.Y, xyz.Z});
  return {rgb[0], rgb[1], rgb[2]};
}

bool in_srgb_gamut(const Lab& lab) noexcept {
  return shows(rgb_from_lab(lab), 1e-5);
}

Lab into_srgb_gamut(const Lab& lab) noexcept {
  if (in_srgb_gamut(lab)) return lab;
  const double L = std::clamp(lab.L, 0.0, 100.0);
  double inside = 0.0;
  double outside = 1.0;
  for (int step = 0; step < 40; ++step) {
    const double middle = (inside + outside) / 2.0;
    (in_srgb_gamut({L, lab.a * middle, lab.b * middle}) ? inside : outside) = middle;
  }
  return {L, lab.a * inside, lab.b * inside};
}

Rgb8 screen_rgb(const Lab& lab) noexcept {
  const LinearRgb rgb = rgb_from_lab(into_srgb_gamut(lab));
  return {byte_from_light(rgb.r), byte_from_light(rgb.g), byte_from_light(rgb.b)};
}

std::string hex_from_lab(const Lab& lab) {
  constexpr char kHex[] = "0123456789abcdef";
  const Rgb8 rgb = screen_rgb(lab);
  std::string text = "#";
  for (const unsigned char byte : {rgb.r, rgb.g, rgb.b}) {
    text += kHex[byte >> 4U];
    text += kHex[byte & 15U];
  }
  return text;
}

}  // namespace kithue
