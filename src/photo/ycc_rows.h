// SPDX-License-Identifier: MIT
#pragma once

#include <array>
#include <cstdint>
#include <vector>

#include "colour/light_rows.h"
#include "icc/colour_model.h"
#include "image/picture.h"

namespace kithue {

/// The upright light of a JPEG, worked out row by row from its planes: 1.5 bytes a pixel in memory at the
/// usual sampling. An upright picture's planes may be filled later, from the top: a row can be read as soon
/// as `rows_for` says. RGB is made after JFIF 1.02 (ITU-R BT.601), in whole numbers.
///
/// Single pixels get colour differences between the samples around them (weights 3 and 1 along each way), as
/// libjpeg does: the same RGB to the bit for an upright picture, within 1 of it for a turned one. Squares of
/// 2 x 2 pixels that share a sample (4:2:0) get the mean of what their pixels would get.
class YccRows final : public LightRows {
 public:
  /// REQUIRES: planes of that size, orientation 1-8 (EXIF), a model for 8 bits: three curves or a grid.
  YccRows(YccPlanes planes, int width, int height, int orientation, ColourModel model);

  [[nodiscard]] int width() const override { return width_; }
  [[nodiscard]] int height() const override { return height_; }
  [[nodiscard]] const Matrix3& to_xyz() const override { return model_.to_xyz; }
  [[nodiscard]] Sampling sampling() const override {
    return {planes_.across, planes_.down, phase_x_ != 0, phase_y_ != 0};
  }
  void read(int x, int y, int count, float* light) const override;
  void read_halved(int x, int y, int count, float* r, float* g, float* b) const override;

  /// How many rows of the planes must be there before the first `rows` of the picture can be read.
  [[nodiscard]] int rows_for(int rows) const;

  /// The share of pixels, 0-1, with a colour channel at the very top of its range. Of a large
  /// picture some 128 x 512 pixels are looked at.
  [[nodiscard]] double clipped_share() const;

 private:
  /// What a sample pair adds to Y for red, green and blue.
  struct Shift {
    int r, g, b;
  };
  [[nodiscard]] const unsigned char* brightness(int x, int y) const;
  [[nodiscard]] Shift shift(int cb, int cr) const;
  void spread(const unsigned char* near, const unsigned char* far, int place, int count, int* out) const;
  void differences(const unsigned char* plane, int x, int y, int count, int* out) const;
  void rgb(int x, int y, int count, unsigned char* out) const;
  void softened(const unsigned char* plane, int column, int row, int count, std::uint8_t* out) const;
  void halved(int x, int y, int count, float* r, float* g, float* b) const;

  YccPlanes planes_;
  ColourModel model_;
  int width_;
  int height_;
  int columns_;      // of the differences
  int rows_;         // of the differences
  int phase_x_ = 0;  // 1: the first column of pixels is the right half of its sample
  int phase_y_ = 0;
  std::array<std::vector<float>, 3> curve_;  // a quarter of the light, from Y plus shift of -kMargin on
  static constexpr int kMargin = 256;
};

}  // namespace kithue
