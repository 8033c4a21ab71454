// SPDX-License-Identifier: MIT
#pragma once

#include <algorithm>
#include <array>
#include <cmath>
#include <cstdint>
#include <iterator>
#include <numbers>
#include <random>
#include <string>
#include <vector>

#include "paper/camera.h"

namespace kithue {

/// A chip as it is drawn: where, how turned, and the light it gives back.
struct DrawnChip {
  double x = 0.0;  ///< of its middle
  double y = 0.0;
  double half_width = 30.0;
  double half_height = 30.0;
  bool round = false;
  double turned = 0.0;  ///< degrees
  std::array<double, 3> light{};
  [[nodiscard]] bool holds(double px, double py) const {
    const double reach = half_width + half_height;
    if (std::fabs(px - x) > reach || std::fabs(py - y) > reach) return false;
    const double angle = turned * std::numbers::pi / 180.0;
    const double dx = (px - x) * std::cos(angle) + (py - y) * std::sin(angle);
    const double dy = (py - y) * std::cos(angle) - (px - x) * std::sin(angle);
    return round ? std::hypot(dx / half_width, dy / half_height) < 1.0
                 : std::fabs(dx) < half_width && std::fabs(dy) < half_height;
  }
};

/// Chips on a plain ground, photographed.
struct ChipScene {
  int width = 900;
  int height = 600;
  std::array<double, 3> ground{0.75, 0.75, 0.72};
  std::vector<DrawnChip> chips;
  double noise = 0.0;       ///< standard deviation of one pixel, as a part of white
  double grain = 0.0;       ///< of paper and chips alike, as a part of their light, 3 pixels wide
  double fall_right = 0.0;  ///< +0.1: 10 % more light at the right edge, 10 % less at the left
  double fall_corner = 0.0;
  double shadow = 0.0;  ///< part of the light that is missing at a chip's right and lower foot
  int table = 0;        ///< width of a dark table that shows around the ground
  std::uint32_t seed = 1;

  /// The chips that a row of pixels may meet, those on top first.
  [[nodiscard]] std::vector<DrawnChip> chips_near(double py) const {
    std::vector<DrawnChip> near;
    std::copy_if(chips.rbegin(), chips.rend(), std::back_inserter(near), [&](const DrawnChip& chip) {
      return std::fabs(py - chip.y) < chip.half_width + chip.half_height + 10;
    });
    return near;
  }

  /// Light at a place, before noise.
  [[nodiscard]] std::array<double, 3> light_at(double px, double py,
                                               const std::vector<DrawnChip>& near) const {
    std::array<double, 3> light = ground;
    if (px < table || py < table || px >= width - table || py >= height - table) light = {0.12, 0.07, 0.04};
    const auto lies = [&](double x, double y) {
      return std::find_if(near.begin(), near.end(), [&](const DrawnChip& c) { return c.holds(x, y); });
    };
    const auto chip = lies(px, py);
    if (chip != near.end()) {
      light = chip->light;
    } else if (shadow > 0.0) {
      for (int i = 1; i <= 8; ++i) {
        if (lies(px - i, py - i) == near.end()) continue;
        for (double& value : light) value *= 1.0 - shadow * (9.0 - i) / 8.0;
        break;
      }
    }
    const double u = 2.0 * px / width - 1.0;
    const double v = 2.0 * py / height - 1.0;
    const double lit = (1.0 + fall_right * u) * (1.0 - fall_corner * (u * u + v * v) / 2.0);
    for (double& value : light) value *= lit;
    return light;
  }

  /// The picture in sRGB, 8 bits. Deterministic for a seed.
  [[nodiscard]] paper::Shot shot() const {
    paper::Shot made;
    made.width = width;
    made.height = height;
    made.rgb.resize(static_cast<std::size_t>(width) * static_cast<std::size_t>(height) * 3);
    std::mt19937 dice(seed);
    // Sums of uniform numbers: the same on every machine, unlike std::normal_distribution.
    const auto normal = [&dice] {
      double sum = -6.0;
      for (int i = 0; i < 12; ++i) sum += static_cast<double>(dice()) / 4294967296.0;
      return sum;
    };
    std::vector<double> fibres(static_cast<std::size_t>(width / 3 + 1) *
                               static_cast<std::size_t>(height / 3 + 1));
    for (double& fibre : fibres) fibre = 1.0 + grain * normal();
    std::size_t at = 0;
    for (int y = 0; y < height; ++y) {
      const auto near = chips_near(y);
      for (int x = 0; x < width; ++x) {
        std::array<double, 3> light{};
        for (const double i : {0.25, 0.75}) {
          for (const double j : {0.25, 0.75}) {
            const auto part = light_at(x + i, y + j, near);
            for (std::size_t c = 0; c < 3; ++c) light[c] += part[c] / 4;
          }
        }
        const double fibre =
            fibres[static_cast<std::size_t>(y / 3) * static_cast<std::size_t>(width / 3 + 1) +
                   static_cast<std::size_t>(x / 3)];
        for (const double value : light) {
          const double seen = std::clamp(
              value * fibre + (noise > 0.0 ? noise * std::sqrt(std::max(0.0, value)) * normal() : 0.0), 0.0,
              1.0);
          // IEC 61966-2-1.
          const double coded = seen <= 0.0031308 ? 12.92 * seen : 1.055 * std::pow(seen, 1.0 / 2.4) - 0.055;
          made.rgb[at++] = static_cast<unsigned char>(std::lround(255.0 * coded));
        }
      }
    }
    return made;
  }
};

}  // namespace kithue
