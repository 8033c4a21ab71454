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

/// Rows to average. A picture of even sides that is to shrink by two or more is read at half size, which
/// costs a quarter.
class Source {
 public:
  Source(const LightRows& picture, int small_width, int small_height)
      : picture_(picture),
        halved_(picture.width() % 2 == 0 && picture.height() % 2 == 0 && picture.width() >= 2 * small_width &&
                picture.height() >= 2 * small_height),
        width_(halved_ ? picture.width() / 2 : picture.width()),
        height_(halved_ ? picture.height() / 2 : picture.height()) {
    for (std::vector<float>& plane : planes_) plane.resize(static_cast<std::size_t>(width_));
    row_.resize(3 * static_cast<std::size_t>(width_));
  }
  [[nodiscard]] int width() const { return width_; }
  [[nodiscard]] int height() const { return height_; }
  const float* row(int y) {
    if (!halved_) {
      picture_.read(0, y, width_, row_.data());
      return row_.data();
    }
    picture_.read_halved(0, 2 * y, width_, planes_[0].data(), planes_[1].data(), planes_[2].data());
    for (std::size_t x = 0; x < planes_[0].size(); ++x) {
      for (std::size_t c = 0; c < 3; ++c) row_[3 * x + c] = planes_[c][x];
    }
    return row_.data();
  }

 private:
  const LightRows& picture_;
  bool halved_;
  int width_;
  int height_;
  std::array<std::vector<float>, 3> planes_;
  std::vector<float> row_;
};

/// The source pixels that lie in one pixel of the result, along one side, with the part of each.
struct Span {
  int first = 0;
  std::vector<double> parts;  ///< sum to 1
};

std::vector<Span> spans_of(int source, int result) {
  const double step = static_cast<double>(source) / result;
  std::vector<Span> spans(static_cast<std::size_t>(result));
  double begin = 0.0;
  for (int k = 0; k < result; ++k) {
    const double end = k + 1 == result ? source : (k + 1) * step;
    Span& span = spans[static_cast<std::size_t>(k)];
    span.first = std::min(static_cast<int>(begin), source - 1);
    for (int i = span.first; i < source && i < end; ++i)
      span.parts.push_back((std::min(end, i + 1.0) - std::max(begin, static_cast<double>(i))) /
                           (end - begin));
    begin = end;
  }
  return spans;
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

  Source source(picture, small.width, small.height);
  const std::vector<Span> across = spans_of(source.width(), small.width);
  std::vector<double> sums(3 * across.size());
  for (const Span& down : spans_of(source.height(), small.height)) {
    std::fill(sums.begin(), sums.end(), 0.0);
    for (std::size_t j = 0; j < down.parts.size(); ++j) {
      const float* const row = source.row(down.first + static_cast<int>(j));
      for (std::size_t x = 0; x < across.size(); ++x) {
        const float* at = row + 3 * static_cast<std::size_t>(across[x].first);
        for (const double part : across[x].parts) {
          for (std::size_t c = 0; c < 3; ++c) sums[3 * x + c] += down.parts[j] * part * at[c];
          at += 3;
        }
      }
    }
    for (std::size_t x = 0; x < across.size(); ++x) {
      const auto light = times(change, {sums[3 * x], sums[3 * x + 1], sums[3 * x + 2]});
      for (const double channel : light) {
        const double coded = coded_from_light(std::clamp(channel, 0.0, 1.0));
        small.rgb.push_back(static_cast<unsigned char>(std::lround(255.0 * coded)));
      }
    }
  }
  return small;
}

}  // namespace kithue
