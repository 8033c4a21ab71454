// SPDX-License-Identifier: MIT
#pragma once

#include <cstddef>
#include <vector>

#include "colour/matrix.h"

namespace kithue {

/// How a picture was stored: so many pixels across and down share one sample of the colour differences, 1 or
/// 2. A shared sample begins at an even pixel, or at an odd one.
struct Sampling {
  int across = 1;
  int down = 1;
  bool odd_across = false;
  bool odd_down = false;
};

/// An upright picture, opaque, as rows of three numbers proportional to light. Reading is thread-safe.
class LightRows {
 public:
  virtual ~LightRows() = default;
  [[nodiscard]] virtual int width() const = 0;   ///< pixels, 1 or more
  [[nodiscard]] virtual int height() const = 0;  ///< pixels, 1 or more
  /// Takes the three numbers to XYZ under D50 with Y = 1 for the picture's white.
  [[nodiscard]] virtual const Matrix3& to_xyz() const = 0;
  [[nodiscard]] virtual Sampling sampling() const { return {}; }
  /// Writes 3 * count floats: pixels x .. x + count - 1 of row y. Values are finite, mostly 0 to 1.
  /// REQUIRES: 0 <= x, x + count <= width(), 0 <= y < height().
  virtual void read(int x, int y, int count, float* light) const = 0;
  /// Means of 2 x 2 pixels, each kind of light in a row of its own: `count` squares side by side, the first
  /// with its upper left pixel at x, y. REQUIRES: 0 <= x, x + 2 * count <= width(), 0 <= y < height() - 1.
  virtual void read_halved(int x, int y, int count, float* r, float* g, float* b) const {
    const auto size = static_cast<std::size_t>(count) * 6;
    std::vector<float> rows(2 * size);
    read(x, y, 2 * count, rows.data());
    read(x, y + 1, 2 * count, rows.data() + size);
    const float* p = rows.data();
    const float* q = p + size;
    for (int i = 0; i < count; ++i, p += 6, q += 6) {
      r[i] = 0.25F * (p[0] + p[3] + q[0] + q[3]);
      g[i] = 0.25F * (p[1] + p[4] + q[1] + q[4]);
      b[i] = 0.25F * (p[2] + p[5] + q[2] + q[5]);
    }
  }
};

/// Takes the rows of a picture while it is being decoded.
class RowsTaker {
 public:
  virtual ~RowsTaker() = default;
  /// The sizes are known, no row can be read yet. Gives for each job how many rows, from the top, must be
  /// there before it runs. `picture` stays where it is.
  virtual std::vector<int> begin(const LightRows& picture) = 0;
  /// Runs beside other jobs; reads only the rows that it asked for. Never throws.
  virtual void take(std::size_t job) = 0;
};

/// A window of another picture, which must outlive it.
class CroppedRows final : public LightRows {
 public:
  /// REQUIRES: the window lies inside `whole` and is at least 1 x 1.
  CroppedRows(const LightRows& whole, int x, int y, int width, int height)
      : whole_(whole), x_(x), y_(y), width_(width), height_(height) {}
  [[nodiscard]] int width() const override { return width_; }
  [[nodiscard]] int height() const override { return height_; }
  [[nodiscard]] const Matrix3& to_xyz() const override { return whole_.to_xyz(); }
  [[nodiscard]] Sampling sampling() const override {
    Sampling out = whole_.sampling();
    out.odd_across = out.odd_across != (x_ % 2 != 0);
    out.odd_down = out.odd_down != (y_ % 2 != 0);
    return out;
  }
  void read(int x, int y, int count, float* light) const override {
    whole_.read(x_ + x, y_ + y, count, light);
  }
  void read_halved(int x, int y, int count, float* r, float* g, float* b) const override {
    whole_.read_halved(x_ + x, y_ + y, count, r, g, b);
  }

 private:
  const LightRows& whole_;
  int x_;
  int y_;
  int width_;
  int height_;
};

}  // namespace kithue
