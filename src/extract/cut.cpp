// SPDX-License-Identifier: MIT
#include "extract/cut.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <cstddef>

#include "extract/gradients.h"

namespace kithue::extract {
namespace {

constexpr double kMostReach = 16.0;

/// What a pixel counts that is this far off along x or y.
double near_weight(double away) {
  return std::exp(-0.5 * away * away / 9.0);
}

/// The pixels around a place, coded as JPEG does.
struct CutWindow {
  int x0 = 0;
  int y0 = 0;
  int width = 0;
  int height = 0;
  std::vector<Coded> pixels;
  [[nodiscard]] const Coded& at(int i, int j) const {
    return pixels[static_cast<std::size_t>(j) * static_cast<std::size_t>(width) +
                  static_cast<std::size_t>(i)];
  }
};

/// Up to so many pixels to each side of the place.
CutWindow window_at(const LightRows& picture, const LinePlace& place, int half_x, int half_y) {
  CutWindow out;
  out.x0 = static_cast<int>(std::floor(place.x)) - half_x;
  out.y0 = static_cast<int>(std::floor(place.y)) - half_y;
  out.width = 2 * half_x + 1;
  out.height = 2 * half_y + 1;
  const auto count = static_cast<std::size_t>(out.width);
  std::vector<float> row(count * 3);
  out.pixels.resize(count * static_cast<std::size_t>(out.height));
  const double part = 1.0 / place.gain;
  Coded* next = out.pixels.data();
  for (int j = 0; j < out.height; ++j) {
    picture.read(out.x0, out.y0 + j, out.width, row.data());
    for (const float* p = row.data(); p != row.data() + row.size(); p += 3)
      *next++ = coded_of({part * double{p[0]}, part * double{p[1]}, part * double{p[2]}});
  }
  return out;
}

/// Where brightness and colour change near the place (cx, cy).
Gradients gradients_in(const CutWindow& window, double cx, double cy) {
  Gradients out;
  std::vector<double> weight_x;
  for (int i = 0; i < window.width; ++i) weight_x.push_back(near_weight(i - cx));
  for (int j = 1; j + 1 < window.height; ++j) {
    const double weight_y = near_weight(j - cy);
    for (int i = 1; i + 1 < window.width; ++i) {
      const double w = weight_x[static_cast<std::size_t>(i)] * weight_y;
      for (std::size_t c = 0; c < 3; ++c) {
        out.add(window.at(i + 1, j)[c] - window.at(i - 1, j)[c],
                window.at(i, j + 1)[c] - window.at(i, j - 1)[c], w);
      }
    }
  }
  return out;
}

}  // namespace

Cut cut_at(const LightRows& picture, const LinePlace& place, double before, double after) {
  constexpr double kLeastAcross = 0.5;  // of the direction along which the line is said to be crossed
  constexpr int kNear = 10;             // pixels that tell the direction
  const double reach = std::max(before, after);
  Cut cut;
  cut.left = place.left;
  cut.right = place.right;
  const int half = static_cast<int>(std::ceil(std::min(reach, kMostReach))) + 2;
  const int column = static_cast<int>(std::floor(place.x));
  const int line = static_cast<int>(std::floor(place.y));
  if (column < half || line < half || column + half >= picture.width() || line + half >= picture.height())
    return cut;
  const auto read = [&](int aside) {
    return place.across_x ? window_at(picture, place, half, aside) : window_at(picture, place, aside, half);
  };
  int aside = std::min(half, kNear);
  CutWindow window = read(aside);
  const Gradients gradients = gradients_in(window, place.x - window.x0, place.y - window.y0);
  double nx = std::cos(gradients.angle());
  double ny = std::sin(gradients.angle());
  // `left` must lie on the negative side.
  if ((place.across_x ? nx : ny) < 0.0) {
    nx = -nx;
    ny = -ny;
  }
  const double across_part = place.across_x ? nx : ny;
  if (across_part < kLeastAcross) return cut;
  cut.across = {nx, ny};
  cut.one_way = gradients.one_way();
  const double along_most = cut.one_way > 0.8 ? 3.0 : kRoundReach;
  const double tilt = std::sqrt(std::max(0.0, 1.0 - across_part * across_part));
  const double needed = tilt * std::min(reach, kMostReach + 2.0) + along_most * across_part;
  if (needed > aside && aside < half) {
    aside = std::min(half, static_cast<int>(std::ceil(needed)));
    window = read(aside);
  }
  const double cx = place.x - window.x0;
  const double cy = place.y - window.y0;
  constexpr double kCutBin = 0.5;
  const int bins = static_cast<int>(std::ceil(reach / kCutBin));
  std::vector<Coded> sums(static_cast<std::size_t>(2 * bins + 1), Coded{});
  std::vector<double> places(sums.size(), 0.0);
  std::vector<double> counts(sums.size(), 0.0);
  for (int j = 0; j < window.height; ++j) {
    for (int i = 0; i < window.width; ++i) {
      const double across = (i - cx) * nx + (j - cy) * ny;
      const double along = -(i - cx) * ny + (j - cy) * nx;
      if (std::abs(along) > along_most || across < -before || across > after) continue;
      const auto bin = static_cast<std::size_t>(static_cast<int>(std::lround(across / kCutBin)) + bins);
      if (bin >= sums.size()) continue;
      const Coded& v = window.at(i, j);
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
