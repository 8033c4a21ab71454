// SPDX-License-Identifier: MIT
#include "extract/coding.h"

#include <algorithm>
#include <cstddef>
#include <cstdint>

#include "colour/srgb.h"

namespace kithue::extract {
namespace {

/// sRGB coding as a table, small enough for the nearest cache: light from -0.25 to 1.75. Off by less than
/// 0.00002.
class CodingTable {
 public:
  CodingTable() {
    for (std::size_t i = 0; i < table_.size(); ++i)
      table_[i] = static_cast<float>(coded_from_light(kLow + static_cast<double>(i) / kScale));
  }
  [[nodiscard]] double at(double light) const noexcept {
    double slope = 0.0;
    return at(light, slope);
  }
  [[nodiscard]] double at(double light, double& slope) const noexcept {
    const double place = (std::clamp(light, kLow, 1.74) - kLow) * kScale;
    const auto index = static_cast<std::int32_t>(place);
    const float* const here = table_.data() + index;
    const double step = double{here[1]} - double{here[0]};
    slope = kScale * step;
    return double{here[0]} + (place - index) * step;
  }

 private:
  static constexpr double kLow = -0.25;
  static constexpr double kScale = 4096.0;
  std::array<float, 8194> table_{};
};

const CodingTable& coding() noexcept {
  static const CodingTable table;
  return table;
}

Coded differences_of(double r, double g, double b) noexcept {
  const double y = 0.299 * r + 0.587 * g + 0.114 * b;
  return {y, (b - y) / 1.772, (r - y) / 1.402};
}

}  // namespace

Coded coded_of(const Light& light) noexcept {
  const CodingTable& table = coding();
  return differences_of(table.at(light[0]), table.at(light[1]), table.at(light[2]));
}

Coded coded_of(const Light& light, std::array<double, 3>& slope) noexcept {
  const CodingTable& table = coding();
  const double r = table.at(light[0], slope[0]);
  const double g = table.at(light[1], slope[1]);
  return differences_of(r, g, table.at(light[2], slope[2]));
}

Light light_of(const Coded& value) noexcept {
  const double r = value[0] + 1.402 * value[2];
  const double b = value[0] + 1.772 * value[1];
  const double g = (value[0] - 0.299 * r - 0.114 * b) / 0.587;
  return {std::max(0.0, light_from_coded(r)), std::max(0.0, light_from_coded(g)),
          std::max(0.0, light_from_coded(b))};
}

Lab lab_from_light(const Light& light, const Matrix3& to_xyz) noexcept {
  const auto xyz = times(to_xyz, light);
  return lab_from_xyz({xyz[0], xyz[1], xyz[2]});
}

Light light_from_lab(const Lab& lab, const Matrix3& from_xyz) noexcept {
  const Xyz xyz = xyz_from_lab(lab);
  return times(from_xyz, {xyz.X, xyz.Y, xyz.Z});
}

}  // namespace kithue::extract
