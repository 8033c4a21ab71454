// SPDX-License-Identifier: MIT
#include "extract/small_picture.h"

#include <algorithm>

#include "extract/root.h"

namespace kithue {
namespace {

constexpr int kMostSmallSide = 256;

/// Sums `step` pixels of row y into each place.
void add_row(const LightRows& picture, int y, int step, std::vector<float>& buffer,
             std::array<float, 3>* sums, int count) {
  const int pixels = count * step;
  if (step < 2) {
    buffer.resize(3 * static_cast<std::size_t>(pixels));
    picture.read(0, y, pixels, buffer.data());
    for (int i = 0; i < count; ++i) {
      for (std::size_t c = 0; c < 3; ++c) sums[i][c] += buffer[3 * static_cast<std::size_t>(i) + c];
    }
    return;
  }
  const int squares = pixels / 2;
  const auto size = static_cast<std::size_t>(squares);
  buffer.resize(3 * size);
  picture.read_halved(0, y, squares, buffer.data(), buffer.data() + size, buffer.data() + 2 * size);
  for (int i = 0; i < count; ++i) {
    const int from = i * step / 2;
    const int to = std::max(from + 1, (i + 1) * step / 2);
    const float part = 1.0F / static_cast<float>(to - from);
    for (std::size_t c = 0; c < 3; ++c) {
      float sum = 0.0F;
      for (int k = from; k < to; ++k) sum += buffer[c * size + static_cast<std::size_t>(k)];
      sums[i][c] += part * sum;
    }
  }
}

Lab quick_lab(const std::array<float, 3>& light, const Matrix3& m) {
  std::array<float, 3> f{};
  const std::array<double, 3> white{kD50.X, kD50.Y, kD50.Z};
  for (std::size_t i = 0; i < 3; ++i) {
    const double one = m.row[i][0] * static_cast<double>(light[0]) +
                       m.row[i][1] * static_cast<double>(light[1]) +
                       m.row[i][2] * static_cast<double>(light[2]);
    f[i] = extract::root_of(static_cast<float>(one / white[i]));
  }
  const double y = static_cast<double>(f[1]);
  return {116.0 * y - 16.0, 500.0 * (static_cast<double>(f[0]) - y), 200.0 * (y - static_cast<double>(f[2]))};
}

}  // namespace

SmallPicture small_picture_of(const LightRows& picture, Executor& executor) {
  SmallPicture small;
  small.step = (std::max(picture.width(), picture.height()) + kMostSmallSide - 1) / kMostSmallSide;
  small.width = std::max(1, picture.width() / small.step);
  small.height = std::max(1, picture.height() / small.step);
  if (picture.width() < small.step || picture.height() < small.step) return SmallPicture{};
  const auto count = static_cast<std::size_t>(small.width) * static_cast<std::size_t>(small.height);
  small.places.resize(count);
  small.light.resize(count);
  constexpr int kRows = 16;
  executor.run(static_cast<std::size_t>((small.height + kRows - 1) / kRows), [&](std::size_t band) {
    std::vector<float> buffer;
    const int first = static_cast<int>(band) * kRows;
    for (int y = first; y < std::min(first + kRows, small.height); ++y) {
      auto* row = small.light.data() + small.index(0, y);
      // Two looks a place where there is room: a fine pattern must not be met at one height only.
      const int looks = small.step >= 8 ? 2 : 1;
      for (int look = 0; look < looks; ++look) {
        const int at = y * small.step + small.step * (2 * look + 1) / (2 * looks);
        const int even = small.step < 2 ? y : std::min(at & ~1, (picture.height() - 2) & ~1);
        add_row(picture, even, small.step, buffer, row, small.width);
      }
      for (int x = 0; x < small.width; ++x) {
        for (float& one : row[x]) one /= static_cast<float>(looks);
        small.places[small.index(x, y)] = quick_lab(row[x], picture.to_xyz());
      }
    }
  });
  return small;
}

}  // namespace kithue
