// SPDX-License-Identifier: MIT
#include "photo/thumbnail.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <cstddef>

#include "colour/adapt.h"
#include "colour/srgb.h"
#include "icc/matrix_profile.h"

namespace kithue {
namespace {

/// True when the three numbers are XYZ themselves (give or take a scale), not amounts of three lamps.
bool is_xyz(const Matrix3& m) {
  for (std::size_t r = 0; r < 3; ++r) {
    for (std::size_t c = 0; c < 3; ++c) {
      if (r != c && std::abs(m.row[r][c]) > 1e-6) return false;
    }
  }
  return true;
}

/// ITU-R BT.2020-2 table 3: primaries and the D65 white; adapted to D50 by Bradford.
Matrix3 wide_to_d50() {
  const Matrix3 d65 = rgb_to_xyz({0.708, 0.292}, {0.170, 0.797}, {0.131, 0.046}, {0.3127, 0.3290});
  return product(bradford(kSrgbWhite, kD50), d65);
}

/// How much of source pixel `i` lies in [begin, end).
double covered(int i, double begin, double end) {
  return std::max(0.0, std::min(end, i + 1.0) - std::max(begin, static_cast<double>(i)));
}

}  // namespace

Thumbnail thumbnail(const LightRows& picture, int most_width, int most_height) {
  const double scale = std::min({1.0, static_cast<double>(most_width) / picture.width(),
                                 static_cast<double>(most_height) / picture.height()});
  Thumbnail small;
  small.width = std::clamp(static_cast<int>(std::lround(picture.width() * scale)), 1, most_width);
  small.height = std::clamp(static_cast<int>(std::lround(picture.height() * scale)), 1, most_height);
  const bool other = is_xyz(picture.to_xyz());
  const Matrix3 space = other ? wide_to_d50() : picture.to_xyz();
  const Matrix3 change = other ? product(inverse(space), picture.to_xyz()) : Matrix3{};
  small.profile = matrix_profile(space);

  const double across = static_cast<double>(picture.width()) / small.width;
  const double down = static_cast<double>(picture.height()) / small.height;
  const auto columns = static_cast<std::size_t>(small.width);
  std::vector<float> row(3 * static_cast<std::size_t>(picture.width()));
  std::vector<double> sums(3 * columns);
  for (int y = 0; y < small.height; ++y) {
    std::fill(sums.begin(), sums.end(), 0.0);
    const double top = y * down;
    const double bottom = std::min((y + 1) * down, static_cast<double>(picture.height()));
    for (int from = static_cast<int>(top); from < picture.height() && from < bottom; ++from) {
      const double weight = covered(from, top, bottom);
      if (weight <= 0.0) continue;
      picture.read(0, from, picture.width(), row.data());
      for (std::size_t x = 0; x < columns; ++x) {
        const double left = static_cast<double>(x) * across;
        const double right = std::min(left + across, static_cast<double>(picture.width()));
        for (int i = static_cast<int>(left); i < picture.width() && i < right; ++i) {
          const double share = weight * covered(i, left, right);
          for (std::size_t c = 0; c < 3; ++c)
            sums[3 * x + c] += share * row[3 * static_cast<std::size_t>(i) + c];
        }
      }
    }
    for (std::size_t x = 0; x < columns; ++x) {
      const double area = across * down;
      const auto light = times(change, {sums[3 * x] / area, sums[3 * x + 1] / area, sums[3 * x + 2] / area});
      for (const double channel : light) {
        const double coded = coded_from_light(std::clamp(channel, 0.0, 1.0));
        small.rgb.push_back(static_cast<unsigned char>(std::lround(255.0 * coded)));
      }
    }
  }
  return small;
}

}  // namespace kithue
