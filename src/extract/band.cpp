// SPDX-License-Identifier: MIT
#include "extract/band.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <cstddef>

namespace kithue::extract {
namespace {

double normal_part(double z) noexcept {
  return 0.5 * std::erfc(-z * 0.70710678118654752);
}

/// The cumulative normal distribution as a table.
class NormalTable {
 public:
  NormalTable() {
    for (std::size_t i = 0; i < table_.size(); ++i)
      table_[i] = normal_part((static_cast<double>(i) - kMiddle) / kScale);
  }
  [[nodiscard]] double at(double z) const noexcept {
    const double place = std::clamp(z, -5.5, 5.5) * kScale + kMiddle;
    const auto index = static_cast<std::size_t>(place);
    return table_[index] + (place - static_cast<double>(index)) * (table_[index + 1] - table_[index]);
  }

 private:
  static constexpr double kScale = 256.0;
  static constexpr double kMiddle = 1536.0;
  std::array<double, 3074> table_{};
};

double part_below(double z) noexcept {
  static const NormalTable table;
  return table.at(z);
}

}  // namespace

Band::Band(const Cut& cut, const Smear& smear)
    : cut_(cut), sharp_(smear.sharp), trust_chroma_(smear.trust_chroma) {
  if (smear.chroma2 <= 0.0) return;
  double sum = 0.0;
  const double sd = std::sqrt(smear.chroma2);
  const int reach = static_cast<int>(std::ceil(2.6 * sd / kStep));
  for (int i = -reach; i <= reach; ++i) {
    kernel_.push_back(std::exp(-0.5 * i * i * kStep * kStep / smear.chroma2));
    sum += kernel_.back();
  }
  for (double& k : kernel_) k /= sum;
  first_ = static_cast<int>(std::floor(cut.at.front() / kStep)) - reach;
  const int last = static_cast<int>(std::ceil(cut.at.back() / kStep)) + reach + 1;
  grid_.resize(static_cast<std::size_t>(last - first_ + 1));
  soft_.resize(grid_.size());
}

void Band::values(std::span<const Light> lights, std::span<const double> edges, std::vector<Coded>& out) {
  out.resize(cut_.at.size());
  for (std::size_t k = 0; k < out.size(); ++k) out[k] = sharp_at(cut_.at[k], lights, edges);
  if (kernel_.empty()) return;
  for (std::size_t i = 0; i < grid_.size(); ++i) {
    grid_[i] = sharp_at((static_cast<int>(i) + first_) * kStep, lights, edges);
  }
  const std::size_t reach = kernel_.size() / 2;
  for (std::size_t i = reach; i + reach < grid_.size(); ++i) {
    double cb = 0.0;
    double cr = 0.0;
    for (std::size_t d = 0; d < kernel_.size(); ++d) {
      cb += kernel_[d] * grid_[i + d - reach][1];
      cr += kernel_[d] * grid_[i + d - reach][2];
    }
    soft_[i] = {0.0, cb, cr};
  }
  for (std::size_t k = 0; k < out.size(); ++k) {
    const double place = cut_.at[k] / kStep - first_;
    const auto index = static_cast<std::size_t>(place);
    const double part = place - static_cast<double>(index);
    for (std::size_t c = 1; c < 3; ++c)
      out[k][c] = soft_[index][c] + part * (soft_[index + 1][c] - soft_[index][c]);
  }
}

Coded Band::sharp_at(double s, std::span<const Light> lights, std::span<const double> edges) const {
  Light light = lights[0];
  for (std::size_t i = 0; i < edges.size(); ++i) {
    const double past = part_below((s - edges[i]) / sharp_);
    if (past <= 0.0) break;
    for (std::size_t c = 0; c < 3; ++c) light[c] += past * (lights[i + 1][c] - lights[i][c]);
  }
  return coded_of(light);
}

}  // namespace kithue::extract
