// SPDX-License-Identifier: MIT
#include <doctest/doctest.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <vector>

#include "extract/band.h"

using namespace kithue::extract;

TEST_CASE("band: slopes are the differences that small steps make") {
  // An invented cut; the plain way is to move each number a little and look.
  Cut cut;
  for (int i = -8; i <= 8; ++i) cut.at.push_back(0.7 * i + 0.03);
  cut.left = {0.7, 0.5, 0.3};
  cut.right = {0.2, 0.6, 0.8};
  const Light line{0.4, 0.1, 0.15};
  constexpr double kMiddle = 0.4;
  constexpr double kWidth = 2.7;
  for (const bool shared : {false, true}) {
    for (std::size_t k = 0; shared && k < cut.at.size(); ++k) {
      cut.spread.push_back({static_cast<int>(std::floor(cut.at[k] / Spread::kStep)) - 7, {}});
      for (std::size_t i = 0; i < Spread::kTaps; ++i)
        cut.spread.back().taps[i] = static_cast<float>(i + 1) / 136.0F;
    }
    Band band(cut, {0.8, 0.5});
    std::vector<Coded> value;
    std::array<std::vector<Coded>, 5> slope;
    band.slopes(line, kMiddle, kWidth, value, slope);
    const auto plain = [&](const Light& light, double middle, double width) {
      std::vector<Coded> out;
      const std::array<Light, 3> lights{cut.left, light, cut.right};
      const std::array<double, 2> edges{middle - width / 2, middle + width / 2};
      band.values(lights, edges, out);
      return out;
    };
    const auto base = plain(line, kMiddle, kWidth);
    for (std::size_t p = 0; p < 5; ++p) {
      const double step = p < 3 ? 1e-3 : 0.02;
      const auto at = [&](double by) {
        Light light = line;
        if (p < 3) light[p] += by;
        return plain(light, kMiddle + (p == 3 ? by : 0.0), kWidth + (p == 4 ? by : 0.0));
      };
      const auto above = at(step);
      const auto below = at(-step);
      double most = 0.0;
      double largest = 0.0;
      for (std::size_t k = 0; k < base.size(); ++k) {
        for (std::size_t c = 0; c < 3; ++c) {
          most = std::max(most, std::abs(slope[p][k][c] - (above[k][c] - below[k][c]) / (2.0 * step)));
          largest = std::max(largest, std::abs(slope[p][k][c]));
        }
      }
      CAPTURE(p);
      CHECK(most < 0.01 * largest);
    }
    for (std::size_t k = 0; k < base.size(); ++k) {
      for (std::size_t c = 0; c < 3; ++c) CHECK(std::abs(value[k][c] - base[k][c]) < 1e-9);
    }
  }
}

// What it is to be: the areas of pixels averaged, then the normal distribution's values at whole pixels as a
// kernel, summed one by one.
TEST_CASE("band: a smear on the grid is that of a kernel on pixels, along rows; across them it is smooth") {
  for (const double blur : {0.5, 0.7, 1.0}) {
    CAPTURE(blur);
    std::array<double, 13> kernel{};
    double sum = 0.0;
    for (int k = -6; k <= 6; ++k)
      sum += kernel[static_cast<std::size_t>(k + 6)] = std::exp(-0.5 * k * k / (blur * blur));
    double variance = 1.0 / 12.0;
    for (int k = -6; k <= 6; ++k) variance += kernel[static_cast<std::size_t>(k + 6)] / sum * k * k;
    const auto most_off = [&](double nx, double ny, bool on_grid) {
      Cut cut;
      for (int i = -50; i <= 50; ++i) cut.at.push_back(0.09 * i);
      cut.across = {nx, ny};
      cut.left = {0.0, 0.0, 0.0};
      cut.right = {1.0, 1.0, 1.0};
      Band band(cut, {std::sqrt(variance), 0.0, 0.5, on_grid});
      std::vector<Coded> model;
      const std::array<Light, 2> lights{cut.left, cut.right};
      band.values(lights, std::array<double, 1>{0.0}, model);
      double most = 0.0;
      for (std::size_t i = 0; i < cut.at.size(); ++i) {
        double past = 0.0;
        for (int k = -6; k <= 6; ++k)
          past += kernel[static_cast<std::size_t>(k + 6)] / sum * std::clamp(cut.at[i] - k + 0.5, 0.0, 1.0);
        const double coded = coded_of({past, past, past})[0];
        most = std::max(most, std::abs(model[i][0] - coded));
      }
      return most;
    };
    const double along = most_off(1.0, 0.0, true);
    CHECK(along < 0.01);
    CHECK(along < 0.5 * most_off(1.0, 0.0, false));
    CHECK(most_off(0.0, -1.0, true) == along);
    if (blur > 0.6) CHECK(most_off(0.8, 0.6, true) == most_off(1.0, 0.0, false));
  }
}
