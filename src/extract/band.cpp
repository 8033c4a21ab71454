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
  [[nodiscard]] double at(double z, double& slope) const noexcept {
    const double place = std::clamp(z, -5.5, 5.5) * kScale + kMiddle;
    const auto index = static_cast<std::size_t>(place);
    slope = kScale * (table_[index + 1] - table_[index]);
    return table_[index] + (place - static_cast<double>(index)) * (table_[index + 1] - table_[index]);
  }

 private:
  static constexpr double kScale = 256.0;
  static constexpr double kMiddle = 1536.0;
  std::array<double, 3074> table_{};
};

const NormalTable& normal() noexcept {
  static const NormalTable table;
  return table;
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
    const double past = normal().at((s - edges[i]) / sharp_);
    if (past <= 0.0) break;
    for (std::size_t c = 0; c < 3; ++c) light[c] += past * (lights[i + 1][c] - lights[i][c]);
  }
  return coded_of(light);
}

Band::Place Band::slopes_at(double s, const Light& line, double middle, double width) const {
  double first_slope = 0.0;
  double second_slope = 0.0;
  const double in = normal().at((s - middle + width / 2) / sharp_, first_slope);
  const double past = normal().at((s - middle - width / 2) / sharp_, second_slope);
  Light light;
  Light by_middle;
  Light by_width;
  for (std::size_t c = 0; c < 3; ++c) {
    const double first = line[c] - cut_.left[c];
    const double second = cut_.right[c] - line[c];
    light[c] = cut_.left[c] + in * first + past * second;
    by_middle[c] = -(first_slope * first + second_slope * second) / sharp_;
    by_width[c] = (first_slope * first - second_slope * second) / (2.0 * sharp_);
  }
  std::array<double, 3> growth{};
  Place out;
  out[0] = coded_of(light, growth);
  // Brightness and differences are sums of the three channels, so that slopes go through the same sums.
  const auto summed = [&](double r, double g, double b) -> Coded {
    const double y = 0.299 * r + 0.587 * g + 0.114 * b;
    return {y, (b - y) / 1.772, (r - y) / 1.402};
  };
  out[1] = summed(growth[0] * (in - past), 0.0, 0.0);
  out[2] = summed(0.0, growth[1] * (in - past), 0.0);
  out[3] = summed(0.0, 0.0, growth[2] * (in - past));
  out[4] = summed(growth[0] * by_middle[0], growth[1] * by_middle[1], growth[2] * by_middle[2]);
  out[5] = summed(growth[0] * by_width[0], growth[1] * by_width[1], growth[2] * by_width[2]);
  return out;
}

void Band::slopes(const Light& line, double middle, double width, std::vector<Coded>& out,
                  std::array<std::vector<Coded>, 5>& slope) {
  const std::size_t count = cut_.at.size();
  const auto value_of = [&](std::size_t which, std::size_t k) -> Coded& {
    return which == 0 ? out[k] : slope[which - 1][k];
  };
  out.resize(count);
  for (auto& one : slope) one.resize(count);
  for (std::size_t k = 0; k < count; ++k) {
    const Place place = slopes_at(cut_.at[k], line, middle, width);
    for (std::size_t p = 0; p < place.size(); ++p) value_of(p, k) = place[p];
  }
  if (kernel_.empty()) return;
  wide_grid_.resize(grid_.size());
  wide_soft_.assign(grid_.size(), {});
  for (std::size_t i = 0; i < grid_.size(); ++i) {
    const Place place = slopes_at((static_cast<int>(i) + first_) * kStep, line, middle, width);
    for (std::size_t p = 0; p < place.size(); ++p) {
      wide_grid_[i][2 * p] = place[p][1];
      wide_grid_[i][2 * p + 1] = place[p][2];
    }
  }
  const std::size_t reach = kernel_.size() / 2;
  for (std::size_t i = reach; i + reach < grid_.size(); ++i) {
    for (std::size_t d = 0; d < kernel_.size(); ++d) {
      const auto& from = wide_grid_[i + d - reach];
      for (std::size_t c = 0; c < from.size(); ++c) wide_soft_[i][c] += kernel_[d] * from[c];
    }
  }
  for (std::size_t k = 0; k < count; ++k) {
    const double place = cut_.at[k] / kStep - first_;
    const auto index = static_cast<std::size_t>(place);
    const double part = place - static_cast<double>(index);
    const auto& low = wide_soft_[index];
    const auto& high = wide_soft_[index + 1];
    for (std::size_t c = 0; c < low.size(); ++c) {
      value_of(c / 2, k)[1 + c % 2] = low[c] + part * (high[c] - low[c]);
    }
  }
}

}  // namespace kithue::extract
