// SPDX-License-Identifier: MIT
#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>
#include <string>
#include <vector>

#include "cli/threads.h"
#include "image/picture.h"
#include "image/turbo.h"
#include "paper/camera.h"
#include "photo/coded_rows.h"
#include "photo/made.h"
#include "photo/photo.h"
#include "photo/ycc_rows.h"

using namespace kithue;

namespace {

/// A drawn photo (invented) as the tools' encoder stores it: 4:2:0.
std::string photo_of(int width, double height_over_width) {
  paper::Face face{1.0, height_over_width, {{{90, 2, 8}}, {{40, 60, 30}}, {{35, 10, -50}}}, {}};
  for (int i = 0; i < 40; ++i) {
    paper::add_circle(face, 1 + i % 2, {0.03 + 0.15 * (i % 7), 0.03 + 0.11 * (i / 7)}, 0.03);
  }
  paper::Camera camera;
  camera.width = width;
  SerialExecutor serial;
  return paper::jpeg_bytes(paper::photograph(face, camera, serial), 90);
}

std::vector<float> all_of(const LightRows& rows) {
  std::vector<float> out(static_cast<std::size_t>(rows.width()) * static_cast<std::size_t>(rows.height()) *
                         3);
  for (int y = 0; y < rows.height(); ++y) {
    rows.read(0, y, rows.width(), out.data() + static_cast<std::ptrdiff_t>(y) * rows.width() * 3);
  }
  return out;
}

float most_apart(const std::vector<float>& p, const std::vector<float>& q) {
  REQUIRE(p.size() == q.size());
  float most = 0.0F;
  for (std::size_t i = 0; i < p.size(); ++i) most = std::max(most, std::abs(p[i] - q[i]));
  return most;
}

struct Both {
  std::unique_ptr<YccRows> planes;
  std::unique_ptr<CodedRows> rgb;
};

/// The same JPEG by its planes and by the decoder's own RGB.
Both both_ways(const std::string& bytes, int orientation) {
  auto planes = decode_picture(bytes, "a.jpg", {}, JpegForm::ycc_where_possible);
  auto rgb = decode_picture(bytes, "a.jpg", {});
  REQUIRE(planes.has_value());
  REQUIRE(rgb.has_value());
  REQUIRE(planes->ycc.has_value());
  rgb->orientation = orientation;
  const int width = planes->width;
  const int height = planes->height;
  return {std::make_unique<YccRows>(std::move(*planes->ycc), width, height, orientation, srgb_model(8)),
          std::make_unique<CodedRows>(std::move(*rgb), srgb_model(8))};
}

}  // namespace

TEST_CASE("planes: single pixels are those of the decoder's own RGB") {
  // To the bit those of libjpeg-turbo. stb_image rounds elsewhere: a difference 1 off is two steps of blue.
  const auto check = [](const std::string& bytes) {
    const Both both = both_ways(bytes, 1);
    const auto p = all_of(*both.planes);
    const auto q = all_of(*both.rgb);
    if (turbo_planes(bytes, both.planes->width(), both.planes->height())) {
      CHECK(p == q);
    } else {
      CHECK(most_apart(p, q) < 2 * 2.3F / 255.0F);
    }
  };
  for (const int width : {64, 97, 130}) {
    for (const double tall : {0.5, 0.73}) check(photo_of(width, tall));
  }
  // An openly licensed scene of 4:2:0 or 4:4:4 made by another encoder (see its SOURCES).
  check(made::file("jpeg/scene.jpg"));
}

TEST_CASE("planes: all eight orientations give the upright picture, within a step of rounding") {
  const std::string bytes = photo_of(97, 0.73);
  for (int orientation = 1; orientation <= 8; ++orientation) {
    CAPTURE(orientation);
    const Both both = both_ways(bytes, orientation);
    REQUIRE(both.planes->width() == both.rgb->width());
    REQUIRE(both.planes->height() == both.rgb->height());
    // Two steps of 255 in blue, for a difference that is 1 off; the curve is steepest at white, 2.2 a step.
    CHECK(most_apart(all_of(*both.planes), all_of(*both.rgb)) < 2 * 2.3F / 255.0F);
  }
}

TEST_CASE("planes: squares of two by two are means of single pixels, but for rounding") {
  for (const int orientation : {1, 2, 6, 7}) {
    CAPTURE(orientation);
    const Both both = both_ways(photo_of(130, 0.73), orientation);
    const int count = both.planes->width() / 2;
    const auto size = static_cast<std::size_t>(count);
    double difference = 0.0;
    double sum = 0.0;
    for (int y = 0; y + 1 < both.planes->height(); y += 2) {
      std::vector<float> mine(3 * size);
      std::vector<float> means(3 * size);
      both.planes->read_halved(0, y, count, mine.data(), mine.data() + size, mine.data() + 2 * size);
      both.rgb->read_halved(0, y, count, means.data(), means.data() + size, means.data() + 2 * size);
      for (std::size_t i = 0; i < mine.size(); ++i) {
        difference += std::abs(static_cast<double>(mine[i] - means[i]));
        sum += static_cast<double>(means[i]);
      }
    }
    CHECK(difference < 0.005 * sum);
  }
}

TEST_CASE("planes: the clipped share is that of the RGB") {
  paper::Face white{1.0, 1.0, {{{100, 0, 0}}, {{50, 40, 20}}}, {}};
  paper::add_polygon(white, 1, paper::rectangle(0.0, 0.5, 1.0, 1.0));
  paper::Camera camera;
  camera.width = 128;
  camera.exposure = 1.3;
  SerialExecutor serial;
  const std::string bytes = paper::jpeg_bytes(paper::photograph(white, camera, serial), 90);
  auto planes = decode_picture(bytes, "a.jpg", {}, JpegForm::ycc_where_possible);
  const auto rgb = decode_picture(bytes, "a.jpg", {});
  REQUIRE(planes.has_value());
  REQUIRE(rgb.has_value());
  const double share = clipped_share(*rgb);
  CHECK(share > 0.4);
  CHECK(share < 0.6);
  REQUIRE(planes->ycc.has_value());
  const YccRows rows(std::move(*planes->ycc), planes->width, planes->height, 1, srgb_model(8));
  CHECK(std::abs(rows.clipped_share() - share) < 0.01);
}

namespace {

/// Keeps what it reads while the picture is being decoded.
class Keeper final : public RowsTaker {
 public:
  std::vector<int> begin(const LightRows& picture) override {
    picture_ = &picture;
    rows.resize(static_cast<std::size_t>(picture.height()));
    std::vector<int> needs;
    for (int y = 0; y < picture.height(); ++y) needs.push_back(y + 1);
    return needs;
  }
  void take(std::size_t job) override {
    rows[job].resize(3 * static_cast<std::size_t>(picture_->width()));
    picture_->read(0, static_cast<int>(job), picture_->width(), rows[job].data());
  }
  std::vector<std::vector<float>> rows;

 private:
  const LightRows* picture_ = nullptr;
};

}  // namespace

TEST_CASE("decode_photo: rows taken while it decodes are those of the finished picture") {
  const std::string scene = made::file("jpeg/scene.jpg");
  for (const std::string& bytes : {photo_of(130, 0.73), photo_of(97, 3.1), scene}) {
    for (const std::size_t threads : {1U, 2U, 4U}) {
      CAPTURE(threads);
      ThreadExecutor executor(threads);
      Keeper keeper;
      const auto photo = decode_photo(bytes, "a.jpg", {}, keeper, executor);
      REQUIRE(photo.has_value());
      const std::vector<float> all = all_of(*photo->light);
      std::vector<float> taken;
      for (const auto& row : keeper.rows) taken.insert(taken.end(), row.begin(), row.end());
      CHECK(taken == all);
    }
  }
}

TEST_CASE("decode_photo: a cut file ends in its error for those who take rows, too") {
  std::string bytes = made::file("jpeg/scene.jpg");
  bytes.resize(bytes.size() * 2 / 3);
  bytes += "\xff\xd9";
  ThreadExecutor executor(2);
  Keeper keeper;
  const auto photo = decode_photo(bytes, "cut.jpg", {}, keeper, executor);
  if (photo) return;  // built without libjpeg-turbo: stb_image does not say when it ran out of data
  CHECK(photo.error().where.starts_with("cut.jpg"));
  CHECK(photo.error().kind == ErrorKind::bad_input);
}
