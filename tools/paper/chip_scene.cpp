// SPDX-License-Identifier: MIT
#include "paper/chip_scene.h"

#include <algorithm>
#include <cmath>
#include <iterator>
#include <numbers>
#include <random>

namespace kithue::paper {
namespace {

/// A chip with the cosine and sine of its turn, worked out once.
class TurnedChip {
 public:
  explicit TurnedChip(const DrawnChip& chip)
      : chip_(chip),
        reach_(chip.half_width + chip.half_height),
        cosine_(std::cos(chip.turned * std::numbers::pi / 180.0)),
        sine_(std::sin(chip.turned * std::numbers::pi / 180.0)) {}

  [[nodiscard]] bool holds(double px, double py) const {
    if (std::fabs(px - chip_.x) > reach_ || std::fabs(py - chip_.y) > reach_) return false;
    const double dx = (px - chip_.x) * cosine_ + (py - chip_.y) * sine_;
    const double dy = (py - chip_.y) * cosine_ - (px - chip_.x) * sine_;
    return chip_.round ? std::hypot(dx / chip_.half_width, dy / chip_.half_height) < 1.0
                       : std::fabs(dx) < chip_.half_width && std::fabs(dy) < chip_.half_height;
  }
  [[nodiscard]] bool is_near_row(double py) const { return std::fabs(py - chip_.y) < reach_ + 10; }
  [[nodiscard]] const std::array<double, 3>& light() const { return chip_.light; }

 private:
  DrawnChip chip_;
  double reach_;
  double cosine_;
  double sine_;
};

using TurnedChips = std::vector<TurnedChip>;

/// Light at a place, before noise; `near` are the chips that its row of pixels may meet, those on top first.
std::array<double, 3> light_at(const ChipScene& scene, double px, double py, const TurnedChips& near) {
  std::array<double, 3> light = scene.ground;
  if (px < scene.table || py < scene.table || px >= scene.width - scene.table ||
      py >= scene.height - scene.table)
    light = {0.12, 0.07, 0.04};
  const auto lies = [&](double x, double y) {
    return std::find_if(near.begin(), near.end(), [&](const TurnedChip& c) { return c.holds(x, y); });
  };
  const auto chip = lies(px, py);
  if (chip != near.end()) {
    light = chip->light();
  } else if (scene.shadow > 0.0) {
    for (int i = 1; i <= 8; ++i) {
      if (lies(px - i, py - i) == near.end()) continue;
      for (double& value : light) value *= 1.0 - scene.shadow * (9.0 - i) / 8.0;
      break;
    }
  }
  const double u = 2.0 * px / scene.width - 1.0;
  const double v = 2.0 * py / scene.height - 1.0;
  const double lit = (1.0 + scene.fall_right * u) * (1.0 - scene.fall_corner * (u * u + v * v) / 2.0);
  for (double& value : light) value *= lit;
  return light;
}

}  // namespace

bool DrawnChip::holds(double px, double py) const {
  return TurnedChip(*this).holds(px, py);
}

Shot ChipScene::shot() const {
  Shot made;
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
  const TurnedChips on_top_first(chips.rbegin(), chips.rend());
  TurnedChips near;
  std::size_t at = 0;
  for (int y = 0; y < height; ++y) {
    near.clear();
    std::copy_if(on_top_first.begin(), on_top_first.end(), std::back_inserter(near),
                 [y](const TurnedChip& chip) { return chip.is_near_row(y); });
    for (int x = 0; x < width; ++x) {
      std::array<double, 3> light{};
      for (const double i : {0.25, 0.75}) {
        for (const double j : {0.25, 0.75}) {
          const auto part = light_at(*this, x + i, y + j, near);
          for (std::size_t c = 0; c < 3; ++c) light[c] += part[c] / 4;
        }
      }
      const double fibre = fibres[static_cast<std::size_t>(y / 3) * static_cast<std::size_t>(width / 3 + 1) +
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

}  // namespace kithue::paper
