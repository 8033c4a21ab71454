// SPDX-License-Identifier: MIT
#include <doctest/doctest.h>

#include <array>
#include <cmath>
#include <vector>

#include "colour/lab.h"
#include "extract/flat.h"
#include "extract/row_work.h"
#include "paper/face.h"

using namespace kithue;
using namespace kithue::extract;

namespace {

/// Rows of invented cells: plain runs, noise, and values at the far ends.
struct Made {
  int width;
  std::vector<std::int16_t> L, a, b;
  Made(int w, int rows, std::uint64_t seed) : width(w) {
    paper::Dice dice(seed);
    for (int y = 0; y < rows; ++y) {
      const int step = dice.whole(1, 4000);
      for (int x = 0; x < w; ++x) {
        const int jump = (x / 37 + y / 9) % 3 * step;
        const auto near = [&](int base) { return static_cast<std::int16_t>(base + dice.whole(-90, 90)); };
        L.push_back(near(4000 + jump));
        a.push_back(near(jump - 2000));
        b.push_back(near(1000 - jump));
      }
    }
  }
  [[nodiscard]] CellRow row(int y) const {
    const auto at = static_cast<std::ptrdiff_t>(y) * width;
    return {L.data() + at, a.data() + at, b.data() + at};
  }
};

/// The rule of FlatTest, cell by cell.
int plain_tier(const Made& made, int rows, int x, int y, const std::array<int, 4>& limit2) {
  const CellLab here = made.row(y)[x];
  const int steepest = std::max(std::max(gap2(here, made.row(y)[x - 1]), gap2(here, made.row(y)[x + 1])),
                                std::max(gap2(here, made.row(y - 1)[x]), gap2(here, made.row(y + 1)[x])));
  if (steepest <= limit2[0]) return 0;
  if (steepest > limit2[3]) return 4;
  int contrast2 = 0;
  for (const int py : {std::max(y - kFarOff, 0), y, std::min(y + kFarOff, rows - 1)}) {
    for (const int px : {std::max(x - kFarOff, 0), x, std::min(x + kFarOff, made.width - 1)}) {
      contrast2 = std::max(contrast2, gap2(here, made.row(py)[px]));
    }
  }
  if (steepest > contrast2 / 40) return 4;
  return steepest <= limit2[1] ? 1 : steepest <= limit2[2] ? 2 : 3;
}

constexpr std::array<int, 6> kWidths{3, 7, 64, 66, 131, 400};

}  // namespace

TEST_CASE("row work: Lab agrees with the double formula within a step") {
  // ISO/CIE 11664-4 as colour/lab.h does it; the cells are rounded to 1 / 128.
  paper::Dice dice(3);
  std::vector<float> r, g, b;
  for (int i = 0; i < 3000; ++i) {
    const double level = dice.between(0.0, i % 3 == 0 ? 0.02 : 1.2);
    r.push_back(static_cast<float>(level * dice.between(0.6, 1.4)));
    g.push_back(static_cast<float>(level));
    b.push_back(static_cast<float>(level * dice.between(0.2, 1.5)));
  }
  const LightMatrix same{{{1, 0, 0}, {0, 1, 0}, {0, 0, 1}}};
  for (const RowWork* work : row_work_variants()) {
    std::vector<std::int16_t> L(r.size()), a(r.size()), lb(r.size());
    work->lab_from_light(r.data(), g.data(), b.data(), same, r.size(), L.data(), a.data(), lb.data());
    double most = 0.0;
    for (std::size_t i = 0; i < r.size(); ++i) {
      const Lab lab = lab_from_xyz({double{r[i]}, double{g[i]}, double{b[i]}}, {1.0, 1.0, 1.0});
      most = std::max({most, std::abs(L[i] / 128.0 - lab.L), std::abs(a[i] / 128.0 - lab.a),
                       std::abs(lb[i] / 128.0 - lab.b)});
    }
    CAPTURE(work->name);
    CHECK(most < 0.5 / 128.0 + 0.0005);
  }
}

TEST_CASE("row work: flat tiers are those of the rule, cell by cell, on every machine") {
  const std::array<int, 4> limit2{200 * 200, 340 * 340, 600 * 600, 1000 * 1000};
  constexpr int kRows = 24;
  int seen = 0;
  for (const int width : kWidths) {
    const Made made(width, kRows, static_cast<std::uint64_t>(width));
    for (const RowWork* work : row_work_variants()) {
      CAPTURE(work->name);
      for (int y = 1; y + 1 < kRows; ++y) {
        std::vector<std::uint8_t> tiers(static_cast<std::size_t>(width), 9);
        work->judge_flat({made.row(y - 1), made.row(y), made.row(y + 1), made.row(std::max(0, y - kFarOff)),
                          made.row(std::min(kRows - 1, y + kFarOff))},
                         width, limit2.data(), tiers.data());
        int wrong = 0;
        for (int x = 1; x + 1 < width; ++x) {
          const int tier = plain_tier(made, kRows, x, y, limit2);
          seen |= 1 << tier;
          wrong += tiers[static_cast<std::size_t>(x)] != tier ? 1 : 0;
        }
        CHECK(wrong == 0);
        CHECK(tiers.front() == 9);
        CHECK(tiers.back() == 9);
      }
    }
  }
  CHECK(seen == 31);  // every tier came up
}

TEST_CASE("row work: the nearest target is the first of the nearest, cell by cell, on every machine") {
  const Made targets(40, 1, 5);
  const Targets columns{targets.L.data(), targets.a.data(), targets.b.data(), 40};
  constexpr std::size_t kSmall = 30;
  constexpr int kMost = 1024 * 1024;
  constexpr int kNear = 384 * 384;
  for (const int width : kWidths) {
    const Made made(width, 1, 100 + static_cast<std::uint64_t>(width));
    std::vector<std::uint8_t> tiers;
    for (int x = 0; x < width; ++x) tiers.push_back(static_cast<std::uint8_t>(x % 5));
    for (const RowWork* work : row_work_variants()) {
      CAPTURE(work->name);
      std::vector<std::uint8_t> labels(static_cast<std::size_t>(width), 7);
      work->nearest(made.row(0), tiers.data(), width, columns, kSmall, kMost, kNear, labels.data());
      int wrong = 0;
      for (int x = 0; x < width; ++x) {
        const bool flat = tiers[static_cast<std::size_t>(x)] != 4;
        int best = flat ? kMost : kNear;
        int label = 255;
        for (std::size_t k = flat ? 0 : kSmall; k < 40; ++k) {
          const int d = gap2(made.row(0)[x], targets.row(0)[static_cast<std::ptrdiff_t>(k)]);
          if (d < best) {
            best = d;
            label = static_cast<int>(k);
          }
        }
        wrong += labels[static_cast<std::size_t>(x)] != label ? 1 : 0;
      }
      CHECK(wrong == 0);
    }
  }
}

TEST_CASE(
    "labels: plain runs get the nearest colour as cells tried one by one do, up to halfway between two") {
  // Near ones, two alike, far ones; a* and b* odd, so that halving cuts off.
  const std::vector<Lab> colours{{50, 10, 10}, {50, 16, 10}, {90, 0, 5}, {90, 0, 5}, {20, -30.3, 40.7}};
  const LabelTargets targets(colours);
  constexpr int kRun = 210;
  std::vector<std::int16_t> L, a, b;
  std::vector<std::uint8_t> tiers;
  paper::Dice dice(3);
  for (const Lab& lab : colours) {
    for (int i = 0; i < kRun; ++i) {
      const double off = i < 150 ? 0.4 : 4.5;  // plain, then as far as between the first two
      const auto near = [&](double v) {
        return static_cast<std::int16_t>((v + dice.between(-off, off)) * kSteps);
      };
      L.push_back(near(lab.L));
      a.push_back(near(lab.a));
      b.push_back(near(lab.b));
      tiers.push_back(static_cast<std::uint8_t>(i > 100 && i % 50 == 0 ? 4 : i % 3));
    }
  }
  const auto width = static_cast<int>(L.size());
  const CellRow row{L.data(), a.data(), b.data()};
  const std::size_t small = 2;
  std::vector<std::uint8_t> labels(L.size());
  targets.nearest(row, tiers.data(), width, small, labels.data());
  int wrong = 0;
  for (int x = 0; x < width; ++x) {
    const bool flat = tiers[static_cast<std::size_t>(x)] != 4;
    int best = flat ? 64 * kSteps * kSteps : 9 * kSteps * kSteps;
    int label = kNoLabel;
    for (std::size_t k = flat ? 0 : small; k < colours.size(); ++k) {
      const auto step = [](double v) { return static_cast<std::int16_t>(std::lround(v * kSteps)); };
      const int d = gap2(row[x], {step(colours[k].L), step(colours[k].a), step(colours[k].b)});
      if (d < best) {
        best = d;
        label = static_cast<int>(k);
      }
    }
    wrong += labels[static_cast<std::size_t>(x)] != label ? 1 : 0;
  }
  CHECK(wrong == 0);
}

TEST_CASE("row work: every machine grows cells and makes Lab to the same bits") {
  const auto variants = row_work_variants();
  for (const int width : kWidths) {
    const auto count = static_cast<std::size_t>(width);
    paper::Dice dice(9);
    std::vector<float> light, by;
    for (std::size_t i = 0; i < 3 * count; ++i) light.push_back(static_cast<float>(dice.between(-0.1, 2.2)));
    for (std::size_t i = 0; i <= count / 32; ++i) by.push_back(static_cast<float>(dice.between(0.8, 4.0)));
    const LightMatrix matrix{{{0.45F, 0.4F, 0.15F}, {0.22F, 0.72F, 0.06F}, {0.02F, 0.12F, 0.87F}}};
    std::vector<std::vector<std::int16_t>> made;
    for (const RowWork* work : variants) {
      std::vector<std::int16_t> all(3 * count);
      std::int16_t* L = all.data();
      work->lab_from_light(light.data(), light.data() + count, light.data() + 2 * count, matrix, count, L,
                           L + count, L + 2 * count);
      work->grow(by.data(), count, L, L + count, L + 2 * count);
      made.push_back(all);
    }
    for (const auto& one : made) CHECK(one == made.front());
  }
}
