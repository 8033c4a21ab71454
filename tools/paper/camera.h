// SPDX-License-Identifier: MIT
#pragma once

#include <cstdint>
#include <string>
#include <vector>

#include "base/executor.h"
#include "colour/light_rows.h"
#include "colour/matrix.h"
#include "paper/face.h"

namespace kithue::paper {

/// How a face is photographed. The defaults are a fair phone in fair light. The face fills the frame.
struct Camera {
  int width = 1600;           ///< pixels; the height follows from the face
  double blur = 0.6;          ///< Gaussian, standard deviation in pixels
  double grain = 0.008;       ///< paper grain: standard deviation of the light, as a part of it
  double grain_pixels = 2.0;  ///< how wide a grain is
  double noise = 0.006;       ///< shot noise: standard deviation at white, as a part of white
  double fall_right = 0.0;    ///< light at the right edge: +0.1 is 10 % more there and 10 % less at the left
  double fall_down = 0.0;     ///< the same from top to bottom
  double fall_corner = 0.0;   ///< light lost from centre to corner; the mean over the frame stays 1
  double exposure = 1.0;      ///< all light times this
  Matrix3 cast;               ///< linear sRGB in, linear sRGB out: another light or camera
  int samples = 4;            ///< a side: samples * samples places are looked at in each pixel
  std::uint64_t seed = 1;
};

/// A picture as the camera stores it: sRGB, 8 bits, no profile.
struct Shot {
  int width = 0;
  int height = 0;
  std::vector<unsigned char> rgb;  ///< 3 * width * height bytes, rows from the top
  std::vector<double> shares;      ///< of the face's colours, as drawn (0-1), from the samples
  std::vector<Lab> means;          ///< each colour's mean in linear light, wash included; grain, noise and
                                   ///< fall-off not. Without wash this is the colour itself
};

/// Draws the face at the camera's resolution by area averaging in linear light and photographs it.
/// Deterministic for a seed, any executor. REQUIRES: 1 to 255 colours, width 16 or more.
Shot photograph(const Face& face, const Camera& camera, Executor& executor);

/// The light that reaches the frame at x, y (0-1 across and down); its mean over the frame is 1.
double fall_off(const Camera& camera, double x, double y) noexcept;

/// A baseline JPEG; 4:2:0 where the encoder offers it (libjpeg-turbo; without it stb_image_write, which
/// subsamples up to quality 90). Quality 1-100. Empty when the encoder refuses.
std::string jpeg_bytes(const Shot& shot, int quality);
/// True when jpeg_bytes is made by libjpeg-turbo.
bool jpeg_is_turbo() noexcept;
/// An 8-bit PNG without colour chunks.
std::string png_bytes(const Shot& shot);

/// Sees a shot as light, without any file. The shot must outlive it.
class ShotRows final : public LightRows {
 public:
  explicit ShotRows(const Shot& shot) : shot_(shot) {}
  [[nodiscard]] int width() const override { return shot_.width; }
  [[nodiscard]] int height() const override { return shot_.height; }
  [[nodiscard]] const Matrix3& to_xyz() const override;
  void read(int x, int y, int count, float* light) const override;

 private:
  const Shot& shot_;
};

}  // namespace kithue::paper
