// SPDX-License-Identifier: MIT
// Edges of made-up smears, whose shapes are known: the area of a pixel, a normal distribution, and a kernel
// of three taps as pictures that are blurred pixel by pixel have it.
#include <doctest/doctest.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <cstddef>
#include <functional>
#include <vector>

#include "extract/edge_fit.h"
#include "extract/line_fit.h"
#include "extract/sharpness.h"

using namespace kithue;
using namespace kithue::extract;

namespace {

using EdgeShape = std::function<double(double)>;  ///< part of the light past an edge at 0, by pixels

/// The area of a pixel after a kernel with `side` on either neighbour.
double by_pixels(double x, double side) {
  const auto ramp = [](double at) { return std::clamp(at + 0.5, 0.0, 1.0); };
  return side * ramp(x - 1.0) + (1.0 - 2.0 * side) * ramp(x) + side * ramp(x + 1.0);
}

double by_normal(double x, double sharp) {
  return 0.5 * std::erfc(-x / (sharp * std::sqrt(2.0)));
}

constexpr Light kPaper{0.82, 0.79, 0.70};
constexpr Light kBlueInk{0.05, 0.11, 0.20};

/// A cut as it would be read where light is paper but from `first` to `second`, where it is ink.
Cut cut_of(const EdgeShape& past, double first, double second, bool to_paper) {
  Cut cut;
  cut.left = kPaper;
  cut.right = to_paper ? kPaper : kBlueInk;
  for (double at = -6.0; at <= 6.0; at += 0.5) {
    const double ink = past(at - first) - (to_paper ? past(at - second) : 0.0);
    Light light;
    for (std::size_t c = 0; c < 3; ++c) light[c] = kPaper[c] + ink * (kBlueInk[c] - kPaper[c]);
    cut.at.push_back(at);
    cut.value.push_back(coded_of(light));
    cut.weight.push_back(3.0);
  }
  cut.usable = true;
  return cut;
}

std::vector<Cut> edges_of(const EdgeShape& past) {
  std::vector<Cut> cuts;
  for (int i = 0; i < 24; ++i) cuts.push_back(cut_of(past, 0.04 * i - 0.5, 0.0, false));
  return cuts;
}

/// The standard deviation of the normal distribution that fits them best.
double normal_sharp(const std::vector<Cut>& edges) {
  double best = 0.0;
  double least = 1e300;
  for (double sharp = 0.3; sharp < 1.0; sharp += 0.005) {
    double cost = 0.0;
    for (const Cut& cut : edges) {
      double middle = 0.0;
      cost += edge_cost(cut, {sharp, 0.0, 0.0}, middle);
    }
    if (cost < least) {
      least = cost;
      best = sharp;
    }
  }
  return best;
}

}  // namespace

TEST_CASE("sharpness: edges smeared by a normal distribution tell its width and that it has no excess") {
  SerialExecutor serial;
  for (const double sharp : {0.45, 0.6, 0.75, 1.0}) {
    CAPTURE(sharp);
    const EdgeSmear found =
        edge_sharpness(edges_of([&](double x) { return by_normal(x, sharp); }), 0.33, serial).lens;
    CHECK(std::abs(found.sharp - sharp) < 0.01);
    CHECK(std::abs(found.excess) < 0.1);
  }
}

TEST_CASE("sharpness: a kernel on pixels shows as long tails, and a narrow dark line keeps its colour") {
  SerialExecutor serial;
  for (const double side : {0.08, 0.106, 0.13}) {
    CAPTURE(side);
    const EdgeShape past = [&](double x) { return by_pixels(x, side); };
    const EdgeSmear found = edge_sharpness(edges_of(past), 0.33, serial).lens;
    CHECK(found.excess > 0.8);
    CHECK(std::abs(found.sharp - std::sqrt(2.0 * side + 1.0 / 12.0)) < 0.05);  // the shape's own variance
    const auto darkest_off = [&](double excess, double sharp) {
      double worst = 0.0;
      for (const double width : {2.5, 3.0, 3.5}) {
        Cut cut = cut_of(past, -0.5 * width, 0.5 * width, true);
        const CutColour line = fit_cut(cut, {sharp, excess, 0.5});
        for (std::size_t c = 0; c < 3; ++c) worst = std::max(worst, std::abs(line.light[c] - kBlueInk[c]));
      }
      return worst;
    };
    CHECK(darkest_off(found.excess, found.sharp) < 0.012);
    // What a normal distribution alone makes of the same edges.
    CHECK(darkest_off(0.0, normal_sharp(edges_of(past))) > 2.0 * darkest_off(found.excess, found.sharp));
  }
}

TEST_CASE("sharpness: edges along pixels tell whether they were smeared on the grid") {
  SerialExecutor serial;
  const auto edges_along = [](const EdgeShape& past, std::array<double, 2> across) {
    std::vector<Cut> cuts = edges_of(past);
    for (Cut& cut : cuts) cut.across = across;
    return cuts;
  };
  const EdgeShape lens = [](double x) { return by_normal(x, 0.7); };
  const EdgeShape grid = [](double x) { return by_pixels(x, 0.2); };
  const EdgeSmears of_lens = edge_sharpness(edges_along(lens, {1.0, 0.0}), 0.33, serial);
  CHECK(of_lens.grid_better.errors() < -2.0);
  const EdgeSmears of_grid = edge_sharpness(edges_along(grid, {0.0, 1.0}), 0.33, serial);
  CHECK(of_grid.grid_better.errors() > 2.0);
  CHECK(of_grid.grid.on_grid);
  CHECK(std::abs(of_grid.grid.sharp - std::sqrt(0.4 + 1.0 / 12.0)) < 0.02);
  // Across them there is nothing to tell.
  CHECK(edge_sharpness(edges_along(grid, {0.8, 0.6}), 0.33, serial).grid_better.errors() == 0.0);
}

TEST_CASE("sharpness: a mean is counted in its standard errors, once there are six") {
  Better better;
  for (int i = 0; i < 5; ++i) better.add(1.0 + 0.1 * i);
  CHECK(better.errors() == 0.0);
  better.add(1.5);
  // 1.25 over 0.18708 / sqrt(6), as a calculator has it.
  CHECK(std::abs(better.errors() - 16.3663) < 1e-3);
}

TEST_CASE(
    "sharpness: a soft edge fits where light goes over at an even pace, not where a band lies between") {
  constexpr double kSharp = 0.8;
  constexpr double kBroad = 9.0;
  const Smear smear{kSharp, 0.0, 0.5};
  const EdgeShape soft = [](double x) {
    double sum = 0.0;
    constexpr int kParts = 64;
    for (int i = 0; i < kParts; ++i) sum += by_normal(x - kBroad * ((i + 0.5) / kParts - 0.5), kSharp);
    return sum / kParts;
  };
  // Half-way between the two, the rim is as broad as the soft edge.
  const EdgeShape rim = [](double x) {
    return 0.5 * (by_normal(x + 0.5 * kBroad, kSharp) + by_normal(x - 0.5 * kBroad, kSharp));
  };
  const auto misfit = [&](const EdgeShape& past) {
    const Cut cut = cut_of(past, 0.2, 0.0, false);
    return std::sqrt(soft_edge_cost(cut, smear) / (9.0 * static_cast<double>(cut.at.size())));
  };
  CHECK(misfit(soft) < 0.004);
  CHECK(misfit([](double x) { return by_normal(x, 3.0); }) < 0.01);
  CHECK(misfit(rim) > 0.02);
}

TEST_CASE("sharpness: the excess that costs least lies at the bottom of the parabola, within bounds") {
  const auto parabola = [](double bottom) {
    std::array<double, 3> costs{};
    for (std::size_t k = 0; k < 3; ++k) {
      const double off = kExcessStep * static_cast<double>(k) - bottom;
      costs[k] = 5.0 + 2.0 * off * off;
    }
    return best_excess(costs);
  };
  CHECK(parabola(0.3) == doctest::Approx(0.3).epsilon(1e-9));
  CHECK(parabola(1.7) == doctest::Approx(1.7).epsilon(1e-9));
  CHECK(parabola(-3.0) == 0.0);
  CHECK(parabola(9.0) == 2.4);
  CHECK(best_excess({1.0, 2.0, 1.5}) == 0.0);  // no bottom: the better end
}
