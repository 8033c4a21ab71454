// SPDX-License-Identifier: MIT
#pragma once

#include "colour/light_rows.h"
#include "icc/colour_model.h"
#include "image/picture.h"

namespace kithue {

/// The upright, opaque light of a picture, worked out row by row from its coded pixels, so that a photo
/// costs 3 bytes a pixel in memory, not 12.
class CodedRows final : public LightRows {
 public:
  /// REQUIRES: pixels, a model for the picture's bits, and three curves or a grid.
  CodedRows(Picture picture, ColourModel model);

  [[nodiscard]] int width() const override { return turned_ ? picture_.height : picture_.width; }
  [[nodiscard]] int height() const override { return turned_ ? picture_.width : picture_.height; }
  [[nodiscard]] const Matrix3& to_xyz() const override { return model_.to_xyz; }
  [[nodiscard]] Sampling sampling() const override;
  void read(int x, int y, int count, float* light) const override;

 private:
  void into_bands();
  template <std::size_t Size>
  void into_bands();
  void gather(int x, int y, int count, unsigned char* coded) const;
  template <std::size_t Size>
  void gather(int x, int y, int count, unsigned char* coded) const;
  void convert(const unsigned char* coded, int count, float* light) const;

  Picture picture_;
  ColourModel model_;
  bool turned_;             // orientations 5 to 8: rows become columns
  std::size_t pixel_size_;  // bytes
};

/// Light of `count` pixels of RGB in 8 bits. REQUIRES: a model for 8 bits, three curves or a grid.
void light_from_rgb(const unsigned char* rgb, int count, const ColourModel& model, float* light);

/// The share of pixels, 0-1, that have a colour channel at the very top of its range and are not wholly
/// transparent. REQUIRES: pixels.
double clipped_share(const Picture& picture);

}  // namespace kithue
