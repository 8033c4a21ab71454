// SPDX-License-Identifier: MIT
#include <doctest/doctest.h>

#include <cmath>

#include "advise/dice.h"
#include "colour/lab.h"
#include "extract/find_chips.h"
#include "paper/chip_scene.h"

using namespace kithue;

namespace {

/// Circles and rectangles of random colours in rows, some turned.
paper::ChipScene scene_of(Dice& dice, int columns, int rows) {
  paper::ChipScene scene;
  scene.seed = static_cast<std::uint32_t>(dice.between(1, 1e6));
  const double across = static_cast<double>(scene.width) / columns;
  const double down = static_cast<double>(scene.height) / rows;
  const double half = 0.3 * std::min(across, down);
  for (int r = 0; r < rows; ++r) {
    for (int c = 0; c < columns; ++c) {
      paper::DrawnChip chip;
      chip.x = (c + 0.5) * across + dice.between(-0.06, 0.06) * across;
      chip.y = (r + 0.5) * down + dice.between(-0.04, 0.04) * down;
      chip.half_width = half;
      chip.half_height = half * dice.between(0.7, 1.0);
      chip.round = (r + c) % 2 == 0;
      chip.turned = dice.between(-25, 25);
      for (double& value : chip.light) value = dice.between(0.02, 0.6);
      scene.chips.push_back(chip);
    }
  }
  return scene;
}

/// Every drawn chip is found once, in order, and its box lies inside it.
void check_found(const paper::ChipScene& scene, const FoundChips& found) {
  REQUIRE(found.chips.size() == scene.chips.size());
  for (std::size_t i = 0; i < found.chips.size(); ++i) {
    CAPTURE(i);
    const ChipBox& box = found.chips[i];
    const paper::DrawnChip& chip = scene.chips[i];
    // The middle three fifths are what is read; four fifths must lie inside.
    for (const double u : {0.1, 0.9}) {
      for (const double v : {0.1, 0.9}) CHECK(chip.holds(box.x + u * box.width, box.y + v * box.height));
    }
    CHECK(box.width * box.height > 0.3 * 4 * chip.half_width * chip.half_height);
  }
}

FoundChips found_in(const paper::ChipScene& scene) {
  const paper::Shot shot = scene.shot();
  return find_chips(paper::ShotRows(shot));
}

}  // namespace

TEST_CASE("find_chips: circles and turned rectangles, noise, grain, shadows and uneven light") {
  Dice dice(11);
  for (int trial = 0; trial < 4; ++trial) {
    CAPTURE(trial);
    paper::ChipScene scene = scene_of(dice, 6, 4);
    scene.noise = 0.01;
    scene.grain = trial % 2 == 0 ? 0.0 : 0.02;
    scene.fall_right = trial < 2 ? 0.12 : -0.05;
    scene.fall_corner = trial % 2 == 1 ? 0.2 : 0.0;
    scene.shadow = trial != 1 ? 0.35 : 0.0;
    check_found(scene, found_in(scene));
  }
}

TEST_CASE("find_chips: the ground may be a sheet on a table") {
  Dice dice(12);
  paper::ChipScene scene = scene_of(dice, 5, 3);
  scene.table = 24;
  for (paper::DrawnChip& chip : scene.chips) chip.half_width = chip.half_height = 40;
  scene.noise = 0.008;
  check_found(scene, found_in(scene));
}

TEST_CASE("find_chips: a pale chip on pale paper is found") {
  paper::ChipScene scene;
  scene.noise = 0.006;
  scene.chips = {{300, 300, 60, 60, true, 0, {0.72, 0.72, 0.66}},
                 {600, 300, 60, 60, false, 10, {0.75, 0.70, 0.68}}};
  check_found(scene, found_in(scene));
}

TEST_CASE("find_chips: chips that touch are told apart by colour") {
  paper::ChipScene scene;
  scene.chips = {{300, 300, 50, 60, false, 0, {0.5, 0.1, 0.1}},
                 {400, 300, 50, 60, false, 0, {0.1, 0.3, 0.5}}};
  check_found(scene, found_in(scene));
}

TEST_CASE("find_chips: rows that run askew are read row by row") {
  paper::ChipScene scene;
  for (int r = 0; r < 3; ++r) {
    for (int c = 0; c < 8; ++c) {
      const double light = 0.05 + 0.02 * (8 * r + c);
      scene.chips.push_back(
          {80.0 + 105 * c - 9.0 * r, 120.0 + 140 * r + 8.0 * c, 32, 32, false, 4.4, {light, 0.2, 0.1}});
    }
  }
  check_found(scene, found_in(scene));
}

TEST_CASE("find_chips: nothing on an empty ground, nor on noise") {
  paper::ChipScene scene;
  CHECK(found_in(scene).chips.empty());
  scene.noise = 0.02;
  scene.fall_right = 0.2;
  CHECK(found_in(scene).chips.empty());
}

TEST_CASE("find_chips: uneven light is told by the background and taken out of the chips") {
  paper::ChipScene scene;
  for (int i = 0; i < 6; ++i)
    scene.chips.push_back({90.0 + 144 * i, 300, 45, 45, i % 2 == 0, 0, {0.3, 0.2, 0.1}});
  scene.fall_right = 0.2;
  const paper::Shot shot = scene.shot();
  const paper::ShotRows rows(shot);
  const FoundChips found = find_chips(rows);
  REQUIRE(found.chips.size() == 6);
  CHECK(std::fabs(found.uneven - 0.4 * 8 / 9) <
        0.02);  // over nine places across, the outermost 1/18 from the edge
  for (const ChipBox& box : found.chips) {
    const double seen = chip_light(rows, box).light[0];
    const double part = found.light_at(box.x + box.width / 2.0, box.y + box.height / 2.0)[0];
    CHECK(std::fabs(seen / part / 0.3 - 1.0) < 0.015);
  }
}

TEST_CASE("find_chips: a picture one pixel high, one pixel wide, all black") {
  for (const auto& [width, height] : {std::pair{1, 1}, {1, 700}, {3000, 1}, {40, 30}}) {
    paper::ChipScene scene;
    scene.width = width;
    scene.height = height;
    scene.ground = {0, 0, 0};
    CHECK(found_in(scene).chips.empty());
  }
}
