// SPDX-License-Identifier: MIT
#pragma once

#include <algorithm>
#include <array>
#include <cmath>
#include <cstddef>

#include "extract/coding.h"

namespace kithue::extract {

/// The way from the ground of a stroke to its ink and past it.
class Ray {
 public:
  static constexpr double kMostPart = 1.4;  ///< as far past the ink as it goes
  static constexpr double kNever = 1e9;

  Ray(const Light& ground, const Light& ink, const Matrix3& to_xyz) {
    for (std::size_t k = 0; k < kSteps; ++k) {
      Light light;
      for (std::size_t c = 0; c < 3; ++c)
        light[c] = std::max(0.0, ground[c] + part(k) * (ink[c] - ground[c]));
      lab_[k] = lab_from_light(light, to_xyz);
      brightness_[k] = coded_of(light)[0];
    }
    sign_ = brightness_.back() < brightness_.front() ? -1.0 : 1.0;
  }
  [[nodiscard]] double contrast() const { return std::abs(coded_at(1.0) - brightness_.front()); }
  /// What part of the way a brightness is.
  [[nodiscard]] double part_of(double brightness) const {
    return where(brightness, [&](std::size_t k) { return brightness_[k]; });
  }
  /// The same for a cell; `miss`: how far its colour is from the way. Coding smears colour but not
  /// brightness, so less of the ink's colour may be there than of its darkness.
  [[nodiscard]] double part_of(const Lab& lab, double& miss, double least = 0.45) const {
    const double t = where(lab.L, [&](std::size_t k) { return lab_[k].L; });
    const auto k = static_cast<std::size_t>(std::clamp(t, 0.0, kMostPart) * kPerPart + 0.5);
    const Lab& pure = lab_[std::min(k, kSteps - 1)];
    const double da = pure.a - lab_.front().a;
    const double db = pure.b - lab_.front().b;
    const double a = lab.a - lab_.front().a;
    const double b = lab.b - lab_.front().b;
    const double along = std::clamp((a * da + b * db) / (da * da + db * db + 1e-9), least, 1.05);
    miss = t >= kMostPart ? kNever : std::hypot(a - along * da, b - along * db);
    return t;
  }

 private:
  static constexpr double kPerPart = 32.0;
  static constexpr std::size_t kSteps = 46;
  static double part(std::size_t k) { return static_cast<double>(k) / kPerPart; }
  [[nodiscard]] double coded_at(double t) const {
    return brightness_[static_cast<std::size_t>(t * kPerPart)];
  }
  template <typename Value>
  [[nodiscard]] double where(double wanted, Value value) const {
    std::size_t low = 0;
    std::size_t high = kSteps - 1;
    while (high - low > 1) {
      const std::size_t middle = (low + high) / 2;
      (sign_ * value(middle) < sign_ * wanted ? low : high) = middle;
    }
    const double step = value(high) - value(low);
    const double f = std::abs(step) < 1e-9 ? 0.0 : (wanted - value(low)) / step;
    return part(low) + std::clamp(f, -1.0, 1.0) / kPerPart;
  }

  std::array<Lab, kSteps> lab_{};
  std::array<double, kSteps> brightness_{};
  double sign_ = 1.0;
};

}  // namespace kithue::extract
