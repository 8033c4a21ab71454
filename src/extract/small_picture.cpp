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

/// Two looks a place where there is room: a fine pattern must not be met at one height only.
int looks_of(const SmallPicture& small) {
  return small.step >= 8 ? 2 : 1;
}

constexpr int kRows = 16;  // that one job takes

}  // namespace

std::vector<int> SmallPictureMaker::begin(const LightRows& picture) {
  picture_ = &picture;
  small_ = {};
  const int step = (std::max(picture.width(), picture.height()) + kMostSmallSide - 1) / kMostSmallSide;
  if (picture.width() < step || picture.height() < step) return {};
  small_.step = step;
  small_.width = picture.width() / step;
  small_.height = picture.height() / step;
  const auto count = static_cast<std::size_t>(small_.width) * static_cast<std::size_t>(small_.height);
  small_.places.resize(count);
  small_.light.resize(count);
  std::vector<int> needs;
  for (int first = 0; first < small_.height; first += kRows) {
    const int last = std::min(first + kRows, small_.height) - 1;
    needs.push_back(std::min(picture.height(), row_looked_at(last, looks_of(small_) - 1) + 2));
  }
  return needs;
}

int SmallPictureMaker::row_looked_at(int y, int look) const noexcept {
  if (small_.step < 2) return y;
  const int looks = looks_of(small_);
  const int at = y * small_.step + small_.step * (2 * look + 1) / (2 * looks);
  return std::min(at & ~1, (picture_->height() - 2) & ~1);
}

void SmallPictureMaker::take(std::size_t job) {
  const int looks = looks_of(small_);
  const int first = static_cast<int>(job) * kRows;
  std::vector<float> buffer;
  for (int y = first; y < std::min(first + kRows, small_.height); ++y) {
    auto* const row = small_.light.data() + small_.index(0, y);
    for (int look = 0; look < looks; ++look)
      add_row(*picture_, row_looked_at(y, look), small_.step, buffer, row, small_.width);
    for (int x = 0; x < small_.width; ++x) {
      for (float& one : row[x]) one /= static_cast<float>(looks);
      small_.places[small_.index(x, y)] = quick_lab(row[x], picture_->to_xyz());
    }
  }
}

SmallPicture small_picture_of(const LightRows& picture, Executor& executor) {
  SmallPictureMaker maker;
  const std::size_t jobs = maker.begin(picture).size();
  executor.run(jobs, [&](std::size_t job) { maker.take(job); });
  return maker.result();
}

}  // namespace kithue
