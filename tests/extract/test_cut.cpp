// SPDX-License-Identifier: MIT
#include <doctest/doctest.h>

#include <array>
#include <cmath>
#include <cstddef>
#include <vector>

#include "colour/light_rows.h"
#include "colour/srgb.h"
#include "extract/band.h"
#include "extract/cut.h"
#include "paper/camera.h"
#include "photo/photo.h"

using namespace kithue;
using namespace kithue::extract;

namespace {

constexpr int kCutSide = 96;  // pixels
constexpr double kCutSharp = 0.9;
constexpr double kCutWidth = 3.4;
const Light kCutGround{0.7, 0.68, 0.6};
const Light kCutLine{0.12, 0.3, 0.5};

/// A smeared line through (x, y) across (nx, ny), as it is before coding: the normal distribution by the
/// standard library's error function.
paper::Shot shot_of_line(double x, double y, double nx, double ny) {
  paper::Shot shot{kCutSide, kCutSide, {}, {}, {}};
  for (int j = 0; j < kCutSide; ++j) {
    for (int i = 0; i < kCutSide; ++i) {
      const double across = (i - x) * nx + (j - y) * ny;
      const auto past = [&](double edge) {
        return 0.5 * std::erfc((edge - across) / (std::sqrt(2.0) * kCutSharp));
      };
      const double part = past(-0.5 * kCutWidth) - past(0.5 * kCutWidth);
      for (std::size_t c = 0; c < 3; ++c) {
        const double light = kCutGround[c] + part * (kCutLine[c] - kCutGround[c]);
        const double coded = light <= 0.0031308 ? 12.92 * light : 1.055 * std::pow(light, 1.0 / 2.4) - 0.055;
        shot.rgb.push_back(static_cast<unsigned char>(std::lround(255.0 * coded)));
      }
    }
  }
  return shot;
}

/// How far the model of the line is from its cut: root mean square of each signal, of white.
Coded misfit_of_cut(const LightRows& picture, double x, double y, bool across_x) {
  LinePlace place{x, y, kCutGround, kCutGround, across_x, 1.0};
  const Cut cut = cut_at(picture, place, 9.0, 9.0);
  REQUIRE(cut.usable);
  Band band(cut, {kCutSharp});
  std::vector<Coded> model;
  const std::array<Light, 3> lights{kCutGround, kCutLine, kCutGround};
  const std::array<double, 2> edges{-0.5 * kCutWidth, 0.5 * kCutWidth};
  band.values(lights, edges, model);
  Coded sum{};
  for (std::size_t k = 0; k < model.size(); ++k) {
    for (std::size_t c = 0; c < 3; ++c) sum[c] += std::pow(cut.value[k][c] - model[k][c], 2.0);
  }
  for (double& one : sum) one = std::sqrt(one / static_cast<double>(model.size()));
  return sum;
}

}  // namespace

// libjpeg (-turbo) halves the colour differences and brings them back; the model is to foretell what it
// makes.
TEST_CASE("cut: colour differences across a line are spread as JPEG spreads them, wherever it lies") {
  if (!paper::jpeg_is_turbo()) return;  // the other encoder does not halve at this quality
  for (const double angle : {0.0, 0.2, 0.6, 0.785398}) {
    for (const double shift : {0.0, 0.5, 1.0, 1.5}) {
      CAPTURE(angle);
      CAPTURE(shift);
      const double x = 47.5 + shift;
      const double y = 48.0;
      const auto photo =
          decode_photo(paper::jpeg_bytes(shot_of_line(x, y, std::cos(angle), std::sin(angle)), 100), "line");
      REQUIRE(photo);
      const LightRows& whole = *photo->light;
      CHECK(whole.sampling().across == 2);
      const Coded off = misfit_of_cut(whole, x, y, true);
      CHECK(off[0] < 0.006);
      CHECK(off[1] < 0.004);
      CHECK(off[2] < 0.004);
      // The same in a window that begins in the middle of a sample.
      const Coded cropped = misfit_of_cut(CroppedRows(whole, 3, 5, 88, 88), x - 3.0, y - 5.0, true);
      CHECK(cropped[1] < 0.004);
      CHECK(cropped[2] < 0.004);
    }
  }
}

TEST_CASE("cut: where each pixel has its own colour differences nothing is spread") {
  const paper::Shot shot = shot_of_line(48.3, 48.0, 1.0, 0.0);
  const paper::ShotRows rows(shot);
  const Coded off = misfit_of_cut(rows, 48.3, 48.0, true);
  for (const double one : off) CHECK(one < 0.003);
}

TEST_CASE("cut: a bent line is as sharp as a straight one") {
  // Half-way down a circle of radius 24 around a point 24 pixels to the left.
  constexpr double kRadius = 24.0;
  paper::Shot shot{kCutSide, kCutSide, {}, {}, {}};
  for (int j = 0; j < kCutSide; ++j) {
    for (int i = 0; i < kCutSide; ++i) {
      const double across = std::hypot(i - 48.0 + kRadius, j - 48.0) - kRadius;
      const auto past = [&](double edge) {
        return 0.5 * std::erfc((edge - across) / (std::sqrt(2.0) * kCutSharp));
      };
      const double part = past(-0.5 * kCutWidth) - past(0.5 * kCutWidth);
      for (std::size_t c = 0; c < 3; ++c) {
        shot.rgb.push_back(static_cast<unsigned char>(
            std::lround(255.0 * coded_from_light(kCutGround[c] + part * (kCutLine[c] - kCutGround[c])))));
      }
    }
  }
  const Coded off = misfit_of_cut(paper::ShotRows(shot), 48.0, 48.0, true);
  for (const double one : off) CHECK(one < 0.003);  // 0.011 in brightness if it is taken for straight
}

TEST_CASE("cut: what is gathered at one place is counted") {
  const auto gathered = [](double angle) {
    const paper::Shot shot = shot_of_line(48.0, 48.0, std::cos(angle), std::sin(angle));
    const LinePlace place{48.0, 48.0, kCutGround, kCutGround, true, 1.0};
    return cut_at(paper::ShotRows(shot), place, 9.0, 9.0).gathered;
  };
  CHECK(gathered(0.0) < 1e-4);
  // Even over half a pixel: 0.25 / 12.
  CHECK(std::abs(gathered(0.6) - 0.25 / 12.0) < 0.004);
}
