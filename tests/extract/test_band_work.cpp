// SPDX-License-Identifier: MIT
#include <doctest/doctest.h>

#include <array>
#include <cmath>
#include <cstddef>
#include <vector>

#include "colour/srgb.h"
#include "extract/band_work.h"
#include "paper/face.h"

using namespace kithue;
using namespace kithue::extract;

namespace {

/// Invented bands.
BandModel model_of(paper::Dice& dice, int edges) {
  BandModel model;
  model.edges = edges;
  for (auto& light : model.light) {
    for (float& one : light) one = static_cast<float>(dice.between(0.0, 1.2));
  }
  for (int e = 0; e < edges; ++e) model.edge[e] = static_cast<float>(dice.between(-1.0, 1.0) + 2.0 * e - 2.0);
  model.by_sharp = static_cast<float>(1.0 / dice.between(0.4, 2.2));
  model.excess = static_cast<float>(dice.between(-0.4, 2.4));
  if (dice.unit() < 0.5) {
    model.stepped = static_cast<float>(dice.between(0.1, 1.0));
    model.by_nodes = static_cast<float>(1.0 / dice.between(0.2, 2.0));
  }
  return model;
}

std::vector<float> places(int count) {
  std::vector<float> at;
  for (int i = 0; i < count; ++i)
    at.push_back(0.5F * static_cast<float>(i) - 0.25F * static_cast<float>(count));
  return at;
}

/// The part below z: the error function of the standard library and the first term of the Gram-Charlier A
/// series that is not zero (Kendall & Stuart, The Advanced Theory of Statistics, vol. 1, 6.17; from memory).
double part_below(double z, double excess) {
  const double density = std::exp(-0.5 * z * z) / std::sqrt(2.0 * std::acos(-1.0));
  return 0.5 * std::erfc(-z / std::sqrt(2.0)) - excess / 24.0 * (z * z * z - 3.0 * z) * density;
}

/// Y', Cb', Cr' by that and the curve of sRGB, in double precision.
std::array<double, 3> plain(const BandModel& model, double at) {
  std::array<double, 3> coded{};
  for (std::size_t c = 0; c < 3; ++c) {
    double light = double{model.light[0][c]};
    for (int e = 0; e < model.edges; ++e) {
      const double away = at - double{model.edge[e]};
      const double excess = double{model.excess};
      double past = part_below(away * double{model.by_sharp}, excess);
      if (model.stepped > 0.0F) {
        const double low = std::floor(away - 0.5) + 0.5;
        const double first = part_below(low * double{model.by_nodes}, excess);
        const double second = part_below((low + 1.0) * double{model.by_nodes}, excess);
        past += double{model.stepped} * (first + (away - low) * (second - first) - past);
      }
      light += past * (double{model.light[e + 1][c]} - double{model.light[e][c]});
    }
    coded[c] = coded_from_light(light);
  }
  const double y = 0.299 * coded[0] + 0.587 * coded[1] + 0.114 * coded[2];
  return {y, (coded[2] - y) / 1.772, (coded[0] - y) / 1.402};
}

/// True near to where a stepped edge has a corner, and so no slope.
bool is_at_corner(const BandModel& model, double at) {
  constexpr double kNear = 0.004;  // pixels
  for (int e = 0; model.stepped > 0.0F && e < model.edges; ++e) {
    const double place = at - double{model.edge[e]} - 0.5;
    if (std::abs(place - std::round(place)) < kNear) return true;
  }
  return false;
}

std::vector<float> rows_of(const BandWork& work, const BandModel& model, const std::vector<float>& at) {
  std::vector<float> rows(at.size() * static_cast<std::size_t>(3 * (1 + model.free())));
  work.rows(model, at.data(), static_cast<int>(at.size()), true, rows.data());
  return rows;
}

}  // namespace

TEST_CASE("band work: values are those of double precision") {
  paper::Dice dice(5);
  const std::vector<float> at = places(96);
  for (int trial = 0; trial < 60; ++trial) {
    const BandModel model = model_of(dice, 1 + trial % 3);
    const std::vector<float> rows = rows_of(band_work(), model, at);
    for (std::size_t i = 0; i < at.size(); ++i) {
      const auto expected = plain(model, double{at[i]});
      for (std::size_t c = 0; c < 3; ++c)
        CHECK(std::abs(double{rows[c * at.size() + i]} - expected[c]) < 3e-6);
    }
  }
}

TEST_CASE("band work: slopes are what small steps make in double precision") {
  paper::Dice dice(6);
  const std::vector<float> at = places(40);
  for (int trial = 0; trial < 20; ++trial) {
    const BandModel model = model_of(dice, 2 + trial % 2);
    const std::vector<float> rows = rows_of(band_work(), model, at);
    for (int p = 0; p < model.free(); ++p) {
      const int lights = 3 * (model.edges - 1);
      const auto moved = [&](float by) {
        BandModel other = model;
        if (p < lights) {
          other.light[1 + p / 3][p % 3] += by;
        } else {
          other.edge[p - lights] += by;
        }
        return other;
      };
      constexpr float kStep = 1.0F / 1024.0F;
      const BandModel above = moved(kStep);
      const BandModel below = moved(-kStep);
      for (std::size_t i = 0; i < at.size(); ++i) {
        if (is_at_corner(model, double{at[i]})) continue;
        const auto high = plain(above, double{at[i]});
        const auto low = plain(below, double{at[i]});
        for (std::size_t c = 0; c < 3; ++c) {
          const double expected = (high[c] - low[c]) * 512.0;
          const double found = double{rows[(3 * static_cast<std::size_t>(1 + p) + c) * at.size() + i]};
          CHECK(std::abs(found - expected) < 2e-3);
        }
      }
    }
  }
}

TEST_CASE("band work: every way of doing it gives the same bits") {
  paper::Dice dice(7);
  for (const int count : {8, 40, 96}) {
    const std::vector<float> at = places(count);
    const auto size = static_cast<std::size_t>(count);
    for (int edges = 1; edges <= 3; ++edges) {
      const BandModel model = model_of(dice, edges);
      const std::vector<float> first = rows_of(*band_work_variants().front(), model, at);
      const int rows = 1 + model.free();
      std::vector<float> weight;
      for (int i = 0; i < 3 * count; ++i) weight.push_back(static_cast<float>(dice.unit()));
      std::vector<float> taps;
      std::vector<int> places_of_taps;
      for (int i = 0; i < 16 * count; ++i) taps.push_back(static_cast<float>(dice.between(-0.1, 0.4)));
      for (int i = 0; i < count; ++i) places_of_taps.push_back(dice.whole(0, 3 * count - 16));
      for (const BandWork* work : band_work_variants()) {
        CAPTURE(work->name);
        CHECK(rows_of(*work, model, at) == first);
        std::vector<float> soft(size);
        std::vector<float> soft_first(size);
        work->spread(first.data(), places_of_taps.data(), taps.data(), count, soft.data());
        band_work_variants().front()->spread(first.data(), places_of_taps.data(), taps.data(), count,
                                             soft_first.data());
        CHECK(soft == soft_first);
        std::vector<float> sums(static_cast<std::size_t>(rows * (rows + 1) / 2));
        std::vector<float> sums_first = sums;
        work->products(weight.data(), first.data(), rows, 3 * count, sums.data());
        band_work_variants().front()->products(weight.data(), first.data(), rows, 3 * count,
                                               sums_first.data());
        CHECK(sums == sums_first);
      }
    }
  }
}

TEST_CASE("band work: spreads and sums of products are those of plain loops") {
  paper::Dice dice(8);
  std::vector<float> in;
  for (int i = 0; i < 48; ++i) in.push_back(static_cast<float>(dice.between(-1.0, 1.0)));
  std::vector<float> taps;
  for (int i = 0; i < 3 * 16; ++i) taps.push_back(static_cast<float>(dice.between(-1.0, 1.0)));
  const std::vector<int> first{0, 31, 7};
  std::vector<float> spread(3);
  band_work().spread(in.data(), first.data(), taps.data(), 3, spread.data());
  for (std::size_t i = 0; i < spread.size(); ++i) {
    double expected = 0.0;
    for (std::size_t d = 0; d < 16; ++d)
      expected += double{taps[16 * i + d]} * double{in[static_cast<std::size_t>(first[i]) + d]};
    CHECK(std::abs(double{spread[i]} - expected) < 1e-5);
  }
  std::vector<float> weight(16, 0.0F);
  for (std::size_t i = 0; i < 11; ++i) weight[i] = static_cast<float>(dice.unit());
  std::vector<float> sums(6);
  band_work().products(weight.data(), in.data(), 3, 16, sums.data());
  std::size_t at = 0;
  for (std::size_t p = 0; p < 3; ++p) {
    for (std::size_t q = 0; q <= p; ++q) {
      double expected = 0.0;
      for (std::size_t i = 0; i < 16; ++i) {
        expected += double{weight[i]} * double{in[16 * p + i]} * double{in[16 * q + i]};
      }
      CHECK(std::abs(double{sums[at++]} - expected) < 1e-5);
    }
  }
}
