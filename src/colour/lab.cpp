// SPDX-License-Identifier: MIT
#include "colour/lab.h"

#include <cmath>
#include <numbers>

namespace kithue {
namespace {

// The exact fractions of ISO/CIE 11664-4, so that the two branches meet.
constexpr double kEpsilon = 216.0 / 24389.0;
constexpr double kKappa = 24389.0 / 27.0;

double f_of(double ratio) noexcept {
  return ratio > kEpsilon ? std::cbrt(ratio) : (kKappa * ratio + 16.0) / 116.0;
}

double ratio_of(double f) noexcept {
  const double cube = f * f * f;
  return cube > kEpsilon ? cube : (116.0 * f - 16.0) / kKappa;
}

}  // namespace

Lab lab_from_xyz(const Xyz& xyz, const Xyz& white) noexcept {
  const double fx = f_of(xyz.X / white.X);
  const double fy = f_of(xyz.Y / white.Y);
  const double fz = f_of(xyz.Z / white.Z);
  return {116.0 * fy - 16.0, 500.0 * (fx - fy), 200.0 * (fy - fz)};
}

Xyz xyz_from_lab(const Lab& lab, const Xyz& white) noexcept {
  const double fy = (lab.L + 16.0) / 116.0;
  return {ratio_of(fy + lab.a / 500.0) * white.X, ratio_of(fy) * white.Y,
          ratio_of(fy - lab.b / 200.0) * white.Z};
}

Lch lch_from_lab(const Lab& lab) noexcept {
  return {lab.L, chroma(lab), hue_degrees(lab)};
}

Lab lab_from_lch(const Lch& lch) noexcept {
  const double radians = lch.hue_degrees * std::numbers::pi / 180.0;
  return {lch.L, lch.C * std::cos(radians), lch.C * std::sin(radians)};
}

double chroma(const Lab& lab) noexcept {
  return std::hypot(lab.a, lab.b);
}

double hue_degrees(const Lab& lab) noexcept {
  if (lab.a == 0.0 && lab.b == 0.0) return 0.0;  // atan2 would turn -0 into 180
  const double degrees = std::atan2(lab.b, lab.a) * 180.0 / std::numbers::pi;
  const double positive = degrees < 0.0 ? degrees + 360.0 : degrees;
  return positive >= 360.0 ? 0.0 : positive;
}

double hue_gap_degrees(double hue1, double hue2) noexcept {
  const double gap = std::fabs(std::fmod(hue1 - hue2, 360.0));
  return gap > 180.0 ? 360.0 - gap : gap;
}

}  // namespace kithue
