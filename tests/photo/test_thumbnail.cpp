// SPDX-License-Identifier: MIT
#include <doctest/doctest.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <cstdlib>
#include <functional>
#include <utility>

#include "colour/srgb.h"
#include "icc/matrix_profile.h"
#include "photo/thumbnail.h"

namespace {

/// A picture worked out from its coordinates.
class DrawnRows final : public kithue::LightRows {
 public:
  using Pixel = std::function<std::array<double, 3>(int x, int y)>;
  DrawnRows(int width, int height, kithue::Matrix3 to_xyz, Pixel pixel)
      : width_(width), height_(height), to_xyz_(to_xyz), pixel_(std::move(pixel)) {}
  [[nodiscard]] int width() const override { return width_; }
  [[nodiscard]] int height() const override { return height_; }
  [[nodiscard]] const kithue::Matrix3& to_xyz() const override { return to_xyz_; }
  void read(int x, int y, int count, float* light) const override {
    for (int i = 0; i < count; ++i) {
      for (const double channel : pixel_(x + i, y)) *light++ = static_cast<float>(channel);
    }
  }

 private:
  int width_;
  int height_;
  kithue::Matrix3 to_xyz_;
  Pixel pixel_;
};

}  // namespace

TEST_CASE("thumbnail: a fine black and white pattern becomes the grey of half the light, not half the code") {
  const DrawnRows checks(64, 64, kithue::srgb_to_d50(), [](int x, int y) {
    const double light = (x + y) % 2;
    return std::array<double, 3>{light, light, light};
  });
  const kithue::Thumbnail small = kithue::thumbnail(checks, 8, 8);
  // Half the light is 188 in sRGB code (IEC 61966-2-1); the mean of the codes would be 128.
  for (const unsigned char byte : small.rgb) CHECK(byte == 188);
}

TEST_CASE("thumbnail: it keeps the shape and never enlarges") {
  const auto grey = [](int, int) { return std::array<double, 3>{0.2, 0.2, 0.2}; };
  const std::array<int, 6> kCases[] = {{4000, 3000, 400, 300, 400, 300},
                                       {3000, 4000, 400, 300, 225, 300},
                                       {10, 20, 400, 300, 10, 20},
                                       {5000, 1, 400, 300, 400, 1},
                                       {1, 1, 1, 1, 1, 1},
                                       {401, 300, 400, 300, 400, 299}};
  for (const auto& [width, height, most_width, most_height, wanted_width, wanted_height] : kCases) {
    const kithue::Thumbnail small =
        kithue::thumbnail(DrawnRows(width, height, kithue::srgb_to_d50(), grey), most_width, most_height);
    CHECK(small.width == wanted_width);
    CHECK(small.height == wanted_height);
    CHECK(small.rgb.size() == static_cast<std::size_t>(3 * small.width * small.height));
    CHECK(std::count(small.rgb.begin(), small.rgb.end(), small.rgb.front()) ==
          static_cast<std::ptrdiff_t>(small.rgb.size()));
  }
}

TEST_CASE("thumbnail: the mean light of a ramp survives shrinking by an odd factor") {
  const DrawnRows ramp(97, 53, kithue::srgb_to_d50(), [](int x, int y) {
    return std::array<double, 3>{x / 96.0, y / 52.0, 0.5};
  });
  const kithue::Thumbnail small = kithue::thumbnail(ramp, 31, 17);
  double sum[3] = {};
  for (std::size_t i = 0; i < small.rgb.size(); ++i)
    sum[i % 3] += kithue::light_from_coded(small.rgb[i] / 255.0);
  for (const double channel : sum) CHECK(std::abs(channel / (small.width * small.height) - 0.5) < 0.01);
}

TEST_CASE("thumbnail: an RGB picture keeps its own primaries, one given in XYZ goes to wide ones") {
  const auto grey = [](int, int) { return std::array<double, 3>{0.25, 0.25, 0.25}; };
  const kithue::Thumbnail own = kithue::thumbnail(DrawnRows(2, 2, kithue::srgb_to_d50(), grey), 2, 2);
  CHECK(own.profile == kithue::matrix_profile(kithue::srgb_to_d50()));
  kithue::Matrix3 xyz;
  xyz.row = {{{kithue::kD50.X, 0, 0}, {0, 1, 0}, {0, 0, kithue::kD50.Z}}};
  const kithue::Thumbnail wide = kithue::thumbnail(DrawnRows(2, 2, xyz, grey), 2, 2);
  CHECK(wide.profile != own.profile);
  // A neutral stays a neutral of the same light.
  for (const unsigned char byte : wide.rgb) CHECK(std::abs(byte - own.rgb.front()) <= 1);
}
