// SPDX-License-Identifier: MIT
#include "extract/cut.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <cstddef>

namespace kithue::extract {
namespace {

constexpr double kMostReach = 16.0;

/// What a pixel counts that is this far off along x or y.
double near_weight(double away) {
  return std::exp(-0.5 * away * away / 9.0);
}

}  // namespace

Cut cut_at(const LightRows& picture, const LinePlace& place, double before, double after) {
  const double reach = std::max(before, after);
  Cut cut;
  cut.left = place.left;
  cut.right = place.right;
  const int half = static_cast<int>(std::ceil(std::min(reach, kMostReach))) + 2;
  const int x0 = static_cast<int>(std::floor(place.x)) - half;
  const int y0 = static_cast<int>(std::floor(place.y)) - half;
  const int side = 2 * half + 1;
  if (x0 < 0 || y0 < 0 || x0 + side > picture.width() || y0 + side > picture.height()) return cut;
  const auto size = static_cast<std::size_t>(side);
  std::vector<float> row(size * 3);
  std::vector<Coded> window(size * size);
  for (int j = 0; j < side; ++j) {
    picture.read(x0, y0 + j, side, row.data());
    for (std::size_t i = 0; i < size; ++i) {
      Light light;
      for (std::size_t c = 0; c < 3; ++c) light[c] = static_cast<double>(row[i * 3 + c]) / place.gain;
      window[static_cast<std::size_t>(j) * size + i] = coded_of(light);
    }
  }
  // The direction across the line: where brightness and colour change most, near the middle.
  double xx = 0.0;
  double yy = 0.0;
  double xy = 0.0;
  const double cx = place.x - x0;
  const double cy = place.y - y0;
  std::vector<double> weight_x(size);
  std::vector<double> weight_y(size);
  for (std::size_t i = 0; i < size; ++i) {
    weight_x[i] = near_weight(static_cast<double>(i) - cx);
    weight_y[i] = near_weight(static_cast<double>(i) - cy);
  }
  for (int j = 1; j + 1 < side; ++j) {
    for (int i = 1; i + 1 < side; ++i) {
      const double w = weight_x[static_cast<std::size_t>(i)] * weight_y[static_cast<std::size_t>(j)];
      const auto value = [&](int a, int b) -> const Coded& {
        return window[static_cast<std::size_t>(b) * size + static_cast<std::size_t>(a)];
      };
      for (std::size_t c = 0; c < 3; ++c) {
        const double gx = value(i + 1, j)[c] - value(i - 1, j)[c];
        const double gy = value(i, j + 1)[c] - value(i, j - 1)[c];
        xx += w * gx * gx;
        yy += w * gy * gy;
        xy += w * gx * gy;
      }
    }
  }
  double angle = 0.5 * std::atan2(2.0 * xy, xx - yy);
  double nx = std::cos(angle);
  double ny = std::sin(angle);
  const double spread = std::hypot(xx - yy, 2.0 * xy) / std::max(1e-12, xx + yy);
  // `left` must lie on the negative side.
  if ((place.across_x ? nx : ny) < 0.0) {
    nx = -nx;
    ny = -ny;
  }
  if ((place.across_x ? nx : ny) < 0.5) return cut;
  cut.across = {nx, ny};
  const double along_most = spread > 0.8 ? 3.0 : 1.2;
  constexpr double kBin = 0.5;
  const int bins = static_cast<int>(std::ceil(reach / kBin));
  std::vector<Coded> sums(static_cast<std::size_t>(2 * bins + 1), Coded{});
  std::vector<double> places(sums.size(), 0.0);
  std::vector<double> counts(sums.size(), 0.0);
  for (int j = 0; j < side; ++j) {
    for (int i = 0; i < side; ++i) {
      const double across = (i - cx) * nx + (j - cy) * ny;
      const double along = -(i - cx) * ny + (j - cy) * nx;
      if (std::abs(along) > along_most || across < -before || across > after) continue;
      const auto bin = static_cast<std::size_t>(static_cast<int>(std::lround(across / kBin)) + bins);
      if (bin >= sums.size()) continue;
      const Coded& v = window[static_cast<std::size_t>(j) * size + static_cast<std::size_t>(i)];
      for (std::size_t c = 0; c < 3; ++c) sums[bin][c] += v[c];
      places[bin] += across;
      counts[bin] += 1.0;
    }
  }
  for (std::size_t b = 0; b < sums.size(); ++b) {
    if (counts[b] == 0.0) continue;
    for (double& v : sums[b]) v /= counts[b];
    cut.at.push_back(places[b] / counts[b]);
    cut.value.push_back(sums[b]);
    cut.weight.push_back(counts[b]);
  }
  cut.usable = cut.at.size() > 8;
  return cut;
}

}  // namespace kithue::extract
