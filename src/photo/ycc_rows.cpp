// SPDX-License-Identifier: MIT
#include "photo/ycc_rows.h"

#include <algorithm>
#include <cstdint>
#include <cstdlib>
#include <new>
#include <utility>

#include "photo/coded_rows.h"

namespace kithue {
namespace {

constexpr int kChunk = 256;  // pixels worked on at a time

/// The factors of JFIF 1.02 in parts of 65536, as libjpeg rounds them.
constexpr int kRedCr = 91881;
constexpr int kGreenCb = -22554;
constexpr int kGreenCr = -46802;
constexpr int kBlueCb = 116130;
constexpr int kHalf = 32768;

unsigned char byte_of(int value) {
  return static_cast<unsigned char>(std::clamp(value, 0, 255));
}

/// A plane turned upright; its sides change places for orientations 5 to 8 (CIPA DC-008, tag 274).
LargeBlock turned(const LargeBlock& plane, int stride, int width, int height, int orientation) {
  const auto columns = static_cast<std::size_t>(width);
  const auto rows = static_cast<std::size_t>(height);
  LargeBlock block(columns * rows);
  unsigned char* const out = block.data();
  const unsigned char* const in = plane.data();
  const bool swapped = orientation >= 5;
  const bool mirrored = orientation == 2 || orientation == 3 || orientation == 6 || orientation == 7;
  const bool upended = orientation == 3 || orientation == 4 || orientation == 7 || orientation == 8;
  const std::size_t across = swapped ? rows : columns;
  const std::size_t down = swapped ? columns : rows;
  constexpr std::size_t kTile = 32;  // so that both pictures stay in the cache
  for (std::size_t top = 0; top < rows; top += kTile) {
    for (std::size_t left = 0; left < columns; left += kTile) {
      for (std::size_t r = top; r < std::min(top + kTile, rows); ++r) {
        for (std::size_t c = left; c < std::min(left + kTile, columns); ++c) {
          const std::size_t x = swapped ? r : c;
          const std::size_t y = swapped ? c : r;
          out[(upended ? down - 1 - y : y) * across + (mirrored ? across - 1 - x : x)] =
              in[r * static_cast<std::size_t>(stride) + c];
        }
      }
    }
  }
  return block;
}

}  // namespace

YccRows::YccRows(YccPlanes planes, int width, int height, int orientation, ColourModel model)
    : planes_(std::move(planes)), model_(std::move(model)), width_(width), height_(height) {
  columns_ = (width + planes_.across - 1) / planes_.across;
  rows_ = (height + planes_.down - 1) / planes_.down;
  if (orientation != 1) {
    planes_.y = turned(planes_.y, planes_.bright_stride, columns_ * planes_.across, rows_ * planes_.down,
                       orientation);
    planes_.cb = turned(planes_.cb, planes_.stride, columns_, rows_, orientation);
    planes_.cr = turned(planes_.cr, planes_.stride, columns_, rows_, orientation);
    if (orientation >= 5) {
      std::swap(width_, height_);
      std::swap(columns_, rows_);
      std::swap(planes_.across, planes_.down);
    }
    planes_.stride = columns_;
    planes_.bright_stride = columns_ * planes_.across;
    // What the samples cover beyond the picture's end lies before its beginning once mirrored.
    const bool mirrored = orientation == 2 || orientation == 3 || orientation == 6 || orientation == 7;
    const bool upended = orientation == 3 || orientation == 4 || orientation == 7 || orientation == 8;
    phase_x_ = mirrored ? columns_ * planes_.across - width_ : 0;
    phase_y_ = upended ? rows_ * planes_.down - height_ : 0;
  }
  if (model_.grid) return;
  for (std::size_t c = 0; c < 3; ++c) {
    for (int i = -kMargin; i < 256 + kMargin; ++i) {
      curve_[c].push_back(0.25F * model_.curve[c][static_cast<std::size_t>(std::clamp(i, 0, 255))]);
    }
  }
}

const unsigned char* YccRows::brightness(int x, int y) const {
  return planes_.y.data() + static_cast<std::ptrdiff_t>(y + phase_y_) * planes_.bright_stride + x + phase_x_;
}

YccRows::Shift YccRows::shift(int cb, int cr) const {
  const int u = cb - 128;
  const int v = cr - 128;
  return {(kRedCr * v + kHalf) >> 16, (kGreenCb * u + kGreenCr * v + kHalf) >> 16,
          (kBlueCb * u + kHalf) >> 16};
}

/// The samples of two rows for `count` pixels from `place` on, where four pixels share a sample. Samples
/// beyond the ends are those at the ends.
void YccRows::spread(const unsigned char* near, const unsigned char* far, int place, int count,
                     int* out) const {
  const int first = place / 2;
  const int columns = (place + count - 1) / 2 - first + 1;
  std::array<int, kChunk / 2 + 3> upright;  // NOLINT: filled below
  const auto sum = [&](int column) { return 3 * near[column] + far[column]; };
  upright[0] = sum(std::max(first - 1, 0));
  for (int i = 0; i < columns; ++i) upright[static_cast<std::size_t>(i) + 1] = sum(first + i);
  upright[static_cast<std::size_t>(columns) + 1] = sum(std::min(first + columns, columns_ - 1));
  std::array<int, kChunk + 2> pixels;  // NOLINT: filled below
  for (std::size_t i = 0; i < static_cast<std::size_t>(columns); ++i) {
    pixels[2 * i] = (3 * upright[i + 1] + upright[i] + 8) >> 4;
    pixels[2 * i + 1] = (3 * upright[i + 1] + upright[i + 2] + 7) >> 4;
  }
  std::copy_n(pixels.data() + place % 2, count, out);
}

/// Samples of a difference for single pixels of a row, as libjpeg's "fancy" ways do it, roundings included.
void YccRows::differences(const unsigned char* plane, int x, int y, int count, int* out) const {
  const int place_y = y + phase_y_;
  const int row = place_y / planes_.down;
  const bool lower = planes_.down == 2 && place_y % 2 == 1;
  const int other = std::clamp(lower ? row + 1 : row - 1, 0, rows_ - 1);
  const auto line = [&](int r) { return plane + static_cast<std::ptrdiff_t>(r) * planes_.stride; };
  const unsigned char* const near = line(row);
  const unsigned char* const far = line(other);
  const bool both = planes_.across == 2 && planes_.down == 2;
  const bool soft = planes_.across == 1 || columns_ > 2;  // libjpeg repeats samples in pictures this narrow
  if (both && soft) {                                     // the usual way
    spread(near, far, x + phase_x_, count, out);
    return;
  }
  for (int i = 0; i < count; ++i) {
    const int place = x + i + phase_x_;
    const int column = place / planes_.across;
    if (!soft || planes_.across * planes_.down == 1) {
      out[i] = near[column];
      continue;
    }
    const bool right = place % 2 == 1;
    const int next =
        planes_.across == 1 ? column : std::clamp(right ? column + 1 : column - 1, 0, columns_ - 1);
    if (planes_.across == 2) {
      out[i] = next == column ? near[column] : (3 * near[column] + near[next] + (right ? 2 : 1)) >> 2;
    } else {
      out[i] = (3 * near[column] + far[column] + (lower ? 2 : 1)) >> 2;
    }
  }
}

void YccRows::rgb(int x, int y, int count, unsigned char* out) const {
  std::array<int, kChunk> cb;  // NOLINT: filled below
  std::array<int, kChunk> cr;  // NOLINT: filled below
  differences(planes_.cb.data(), x, y, count, cb.data());
  differences(planes_.cr.data(), x, y, count, cr.data());
  const unsigned char* const bright = brightness(x, y);
  for (int i = 0; i < count; ++i, out += 3) {
    const Shift by = shift(cb[static_cast<std::size_t>(i)], cr[static_cast<std::size_t>(i)]);
    out[0] = byte_of(bright[i] + by.r);
    out[1] = byte_of(bright[i] + by.g);
    out[2] = byte_of(bright[i] + by.b);
  }
}

void YccRows::read(int x, int y, int count, float* light) const {
  std::array<unsigned char, std::size_t{3} * kChunk> coded;  // NOLINT: filled below
  for (int done = 0; done < count; done += kChunk) {
    const int now = std::min(kChunk, count - done);
    rgb(x + done, y, now, coded.data());
    light_from_rgb(coded.data(), now, model_, light + static_cast<std::ptrdiff_t>(done) * 3);
  }
}

/// Means of a difference over squares that share a sample, as `differences` spreads it over their pixels: the
/// weights 1, 6 and 1 of 8 along each way.
void YccRows::softened(const unsigned char* plane, int column, int row, int count, std::uint8_t* out) const {
  const auto line = [&](int r) {
    return plane + static_cast<std::ptrdiff_t>(std::clamp(r, 0, rows_ - 1)) * planes_.stride;
  };
  const unsigned char* const above = line(row - 1);
  const unsigned char* const here = line(row);
  const unsigned char* const below = line(row + 1);
  const auto sum = [&](int c) { return 6 * here[c] + above[c] + below[c]; };
  std::array<int, kChunk + 2> upright;  // NOLINT: filled below
  upright[0] = sum(std::max(column - 1, 0));
  for (int i = 0; i < count; ++i) upright[static_cast<std::size_t>(i) + 1] = sum(column + i);
  upright[static_cast<std::size_t>(count) + 1] = sum(std::min(column + count, columns_ - 1));
  for (std::size_t i = 0; i < static_cast<std::size_t>(count); ++i)
    out[i] = static_cast<std::uint8_t>((6 * upright[i + 1] + upright[i] + upright[i + 2] + 32) >> 6);
}

void YccRows::halved(int x, int y, int count, float* r, float* g, float* b) const {
  const float* const red = curve_[0].data() + kMargin;
  const float* const green = curve_[1].data() + kMargin;
  const float* const blue = curve_[2].data() + kMargin;
  std::array<std::uint8_t, kChunk> cb;  // NOLINT: filled below
  std::array<std::uint8_t, kChunk> cr;  // NOLINT: filled below
  for (int done = 0; done < count; done += kChunk) {
    const int now = std::min(kChunk, count - done);
    softened(planes_.cb.data(), x / 2 + done, y / 2, now, cb.data());
    softened(planes_.cr.data(), x / 2 + done, y / 2, now, cr.data());
    const unsigned char* upper = brightness(x + 2 * done, y);
    const unsigned char* lower = brightness(x + 2 * done, y + 1);
    for (int i = 0; i < now; ++i, upper += 2, lower += 2) {
      const Shift by = shift(cb[static_cast<std::size_t>(i)], cr[static_cast<std::size_t>(i)]);
      const auto sum = [&](const float* curve) {
        return (curve[upper[0]] + curve[upper[1]]) + (curve[lower[0]] + curve[lower[1]]);
      };
      r[done + i] = sum(red + by.r);
      g[done + i] = sum(green + by.g);
      b[done + i] = sum(blue + by.b);
    }
  }
}

void YccRows::read_halved(int x, int y, int count, float* r, float* g, float* b) const {
  const bool shared = planes_.across == 2 && planes_.down == 2 && phase_x_ == 0 && phase_y_ == 0 &&
                      x % 2 == 0 && y % 2 == 0 && columns_ > 2;
  if (model_.grid || !shared) return LightRows::read_halved(x, y, count, r, g, b);
  halved(x, y, count, r, g, b);
}

int YccRows::rows_for(int rows) const {
  // Up to two more samples of the differences, which are spread over the pixels around them.
  return std::min(height_, rows + 2 * planes_.down);
}

double YccRows::clipped_share() const {
  // So many rows, and four times as many places along each: what is clipped lies in spots.
  constexpr int kLooked = 128;
  const int step = std::max(1, height_ / kLooked);
  const int step_along = std::max(1, width_ / (4 * kLooked));
  long long clipped = 0;
  long long seen = 0;
  for (int y = 0; y < height_; y += step) {
    const unsigned char* const bright = brightness(0, y);
    const std::ptrdiff_t first = static_cast<std::ptrdiff_t>((y + phase_y_) / planes_.down) * planes_.stride;
    for (int x = 0; x < width_; x += step_along) {
      const std::ptrdiff_t at = first + (x + phase_x_) / planes_.across;
      const Shift by = shift(planes_.cb.data()[at], planes_.cr.data()[at]);
      clipped += bright[x] + std::max({by.r, by.g, by.b}) >= 255 ? 1 : 0;
      ++seen;
    }
  }
  return static_cast<double>(clipped) / static_cast<double>(seen);
}

}  // namespace kithue
