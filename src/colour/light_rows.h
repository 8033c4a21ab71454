// SPDX-License-Identifier: MIT
#pragma once

#include "colour/matrix.h"

namespace kithue {

/// An upright picture, opaque, as rows of three numbers proportional to light. Reading is thread-safe.
class LightRows {
 public:
  virtual ~LightRows() = default;
  [[nodiscard]] virtual int width() const = 0;   ///< pixels, 1 or more
  [[nodiscard]] virtual int height() const = 0;  ///< pixels, 1 or more
  /// Takes the three numbers to XYZ under D50 with Y = 1 for the picture's white.
  [[nodiscard]] virtual const Matrix3& to_xyz() const = 0;
  /// Writes 3 * count floats: pixels x .. x + count - 1 of row y. Values are finite, mostly 0 to 1.
  /// REQUIRES: 0 <= x, x + count <= width(), 0 <= y < height().
  virtual void read(int x, int y, int count, float* light) const = 0;
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
  void read(int x, int y, int count, float* light) const override {
    whole_.read(x_ + x, y_ + y, count, light);
  }

 private:
  const LightRows& whole_;
  int x_;
  int y_;
  int width_;
  int height_;
};

}  // namespace kithue
