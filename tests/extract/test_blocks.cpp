// SPDX-License-Identifier: MIT
#include <doctest/doctest.h>

#include <algorithm>
#include <array>

#include "extract/blocks.h"
#include "image/picture.h"
#include "paper/camera.h"
#include "photo/coded_rows.h"
#include "photo/ycc_rows.h"

using namespace kithue;

// The weights 3 and 1 of a quarter: libjpeg, jdsample.c, h2v1_fancy_upsample, from memory.
TEST_CASE(
    "sample_weight: the weighted pixels of a block sum up to its own samples, whatever lies beside it") {
  const std::array<double, 10> samples{900.0, 3.0, -7.0, 11.0, 2.0, 0.5, 13.0, -4.0, 8.0, -600.0};
  double sum = 0.0;
  double own = 0.0;
  for (int i = 0; i < extract::kBlockSide; ++i) {
    const auto near = static_cast<std::size_t>(1 + i / 2);
    const std::size_t next = i % 2 == 0 ? near - 1 : near + 1;
    sum += extract::sample_weight(i, 2) * (0.75 * samples[near] + 0.25 * samples[next]);
    own += samples[near];
  }
  CHECK(sum == doctest::Approx(own).epsilon(1e-12));
}

TEST_CASE("sample_weight: where every pixel has a sample of its own, all count alike") {
  for (int i = 0; i < extract::kBlockSide; ++i) CHECK(extract::sample_weight(i, 1) == 1.0);
}

TEST_CASE("sampling: 4:2:0 is told by both ways of reading, and whether a window begins in a sample") {
  paper::Face face{1.0, 0.75, {{{90, 2, 8}}, {{40, 60, 30}}}, {}};
  paper::Camera camera;
  camera.width = 64;
  SerialExecutor serial;
  const std::string bytes = paper::jpeg_bytes(paper::photograph(face, camera, serial), 90);
  auto planes = decode_picture(bytes, "a.jpg", {}, JpegForm::ycc_where_possible);
  auto rgb = decode_picture(bytes, "a.jpg", {});
  REQUIRE(planes);
  REQUIRE(rgb);
  const ColourModel model = [] {
    ColourModel out;
    for (auto& curve : out.curve) curve.assign(256, 0.5F);
    return out;
  }();
  const CodedRows coded(std::move(*rgb), model);
  CHECK(coded.sampling().across == 2);
  CHECK(coded.sampling().down == 2);
  const CroppedRows odd(coded, 3, 4, 20, 20);
  CHECK(odd.sampling().across == 2);
  CHECK(odd.sampling().down == 2);
  CHECK(odd.sampling().odd_across);
  CHECK_FALSE(odd.sampling().odd_down);
  CHECK_FALSE(CroppedRows(odd, 1, 0, 8, 8).sampling().odd_across);
  REQUIRE(planes->ycc.has_value());
  const YccRows rows(std::move(*planes->ycc), planes->width, planes->height, 1, model);
  CHECK(rows.sampling().across == 2);
  CHECK(rows.sampling().down == 2);
}
