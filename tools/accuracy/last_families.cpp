// SPDX-License-Identifier: MIT
#include <algorithm>
#include <array>
#include <cmath>
#include <vector>

#include "accuracy/drawing.h"
#include "accuracy/families.h"

namespace kithue::accuracy {
namespace {

using paper::Dice;
using paper::Face;
using paper::Point;

/// Rings of loops around a middle with spokes: white or soft thread on a coloured ground.
Face lace(Dice& dice, double pixel) {
  Chooser choose(dice);
  Face face = begun(dice, choose.any(25.0, 75.0, 45.0));
  const int thread = with(face, choose.any(84.0, 97.0, 8.0, 20.0));
  const double thick = stroke_of(dice, pixel, 2.5, 7.0);
  const double pitch = std::max(dice.between(0.12, 0.25), thick * 36.0);
  over_grid(face, pitch, dice.between(0.0, 1.5), true, [&](int, int, Point at) {
    for (int ring = 1; ring <= 3; ++ring) {
      const double r = pitch * 0.14 * ring;
      std::vector<Point> line;
      for (int k = 0; k <= 96; ++k) {
        const double a = kTurn * k / 96;
        const double grown = r * (1.0 + 0.12 * std::abs(std::sin(4.0 * a)));
        line.push_back({at.x + grown * std::cos(a), at.y + grown * std::sin(a)});
      }
      paper::add_stroke(face, thread, line, thick);
    }
    for (int k = 0; k < 8; ++k) {
      const double a = kTurn * k / 8;
      paper::add_stroke(face, thread,
                        {at, {at.x + pitch * 0.42 * std::cos(a), at.y + pitch * 0.42 * std::sin(a)}}, thick);
    }
  });
  add_accent(face, dice, choose, pixel);
  return face;
}

/// Chips of stone, large and small, with any corners.
Face terrazzo(Dice& dice, double pixel) {
  Chooser choose(dice);
  Face face = begun(dice, choose.ground());
  const int inks = dice.whole(3, 7);
  for (int i = 0; i < inks; ++i) with(face, choose.any(18.0, 92.0, 55.0));
  const int count = dice.whole(300, 1200);
  for (int i = 0; i < count; ++i) {
    const Point at = anywhere(dice, face);
    const double size = std::max(4.0 * pixel, 0.022 * std::pow(dice.unit(), 2.0) + 0.002);
    const int corners = dice.whole(4, 7);
    const double turn = dice.between(0.0, kTurn);
    std::vector<Point> chip;
    for (int k = 0; k < corners; ++k) {
      const double a = turn + kTurn * (k + dice.between(-0.3, 0.3)) / corners;
      const double r = size * dice.between(0.6, 1.0);
      chip.push_back({at.x + r * std::cos(a), at.y + r * std::sin(a)});
    }
    paper::add_polygon(face, 1 + i % inks, std::move(chip));
  }
  return face;
}

/// Zigzag bands whose edges run out in threads, as in a woven ikat.
Face ikat(Dice& dice, double pixel) {
  Chooser choose(dice);
  Face face = begun(dice, choose.ground());
  const int inks = dice.whole(2, 4);
  for (int i = 0; i < inks; ++i) with(face, choose.ink());
  const double tooth = dice.between(0.06, 0.16);
  const double band = dice.between(0.03, 0.07);
  const double thread = pixel * dice.between(3.0, 7.0);
  for (double x = 0.0; x < face.width; x += thread) {
    const double phase = std::fmod(x, tooth) / tooth;
    const double rise = tooth * 0.8 * std::abs(phase - 0.5);
    int k = 0;
    for (double y = -0.2; y < face.height + 0.1; y += band * 1.7, ++k) {
      const double top = y + rise + dice.between(-0.15, 0.15) * band;
      const double bottom = y + rise + band * (1.0 + dice.between(-0.15, 0.15));
      paper::add_polygon(face, 1 + k % inks, paper::rectangle(x, top, x + thread, bottom));
    }
  }
  maybe_accent(face, dice, choose, pixel);
  return face;
}

/// Half-square triangles, each colour beside many others.
Face quilt(Dice& dice, double pixel) {
  Chooser choose(dice);
  Face face = begun(dice, choose.ground());
  const int inks = dice.whole(3, 8);
  for (int i = 0; i < inks; ++i) with(face, choose.any(20.0, 92.0, 60.0));
  const double side = dice.between(0.025, 0.1);
  for (double y = 0.0; y < face.height; y += side) {
    for (double x = 0.0; x < face.width; x += side) {
      paper::add_polygon(face, 1 + dice.whole(0, inks - 1), {{x, y}, {x + side, y}, {x, y + side}});
      if (dice.unit() < 0.7)
        paper::add_polygon(face, 1 + dice.whole(0, inks - 1),
                           {{x + side, y}, {x + side, y + side}, {x, y + side}});
    }
  }
  maybe_accent(face, dice, choose, pixel);
  return face;
}

/// Groups of narrow lines with much ground between, as on mattress cloth.
Face ticking(Dice& dice, double pixel) {
  Chooser choose(dice);
  Face face = begun(dice, choose.any(80.0, 96.0, 14.0));
  const int inks = dice.whole(1, 3);
  for (int i = 0; i < inks; ++i) with(face, choose.ink());
  const double thick = stroke_of(dice, pixel, 3.0, 9.0);
  const double gap = thick * dice.between(1.5, 3.0);
  const int lines = dice.whole(2, 5);
  const double pitch = lines * (thick + gap) + dice.between(0.02, 0.07);
  const double turn = dice.unit() < 0.6 ? 0.0 : dice.between(0.0, 1.6);
  int group = 0;
  for (double x = -1.0; x < 2.2; x += pitch, ++group) {
    for (int k = 0; k < lines; ++k) {
      const double left = x + k * (thick + gap);
      const int colour = 1 + (k == lines / 2 ? group : k) % inks;
      paper::add_polygon(face, colour,
                         paper::turned(paper::rectangle(left, -1.2, left + thick, 2.6),
                                       {face.width / 2, face.height / 2}, turn));
    }
  }
  maybe_accent(face, dice, choose, pixel);
  return face;
}

/// Leaves drawn with a line around them and a vein: the fill touches the line everywhere.
Face outlined(Dice& dice, double pixel) {
  Chooser choose(dice);
  Face face = begun(dice, choose.ground());
  const int line = with(face, choose.any(12.0, 45.0, 30.0, 20.0));
  const int inks = dice.whole(2, 5);
  for (int i = 0; i < inks; ++i) with(face, choose.any(45.0, 92.0, 60.0, 12.0));
  const double thick = stroke_of(dice, pixel, 2.5, 6.0);
  const double pitch = dice.between(0.07, 0.16);
  over_grid(face, pitch, dice.between(0.0, 1.5), true, [&](int i, int j, Point at) {
    const double turn = dice.between(0.0, kTurn);
    const int fill = 2 + ((i + 2 * j) % inks + inks) % inks;
    const std::size_t before = face.shapes.size();
    paper::add_leaf(face, fill, at, pitch * 0.8, pitch * 0.35, turn);
    std::vector<Point> around = face.shapes[before].outline;
    around.push_back(around.front());
    paper::add_stroke(face, line, around, thick);
    paper::add_stroke(
        face, line, {at, {at.x + pitch * 0.6 * std::cos(turn), at.y + pitch * 0.6 * std::sin(turn)}}, thick);
  });
  maybe_accent(face, dice, choose, pixel);
  return face;
}

constexpr std::array kLastFamilies{Family{"lace", lace},       Family{"terrazzo", terrazzo},
                                   Family{"ikat", ikat},       Family{"quilt", quilt},
                                   Family{"ticking", ticking}, Family{"outlined leaves", outlined}};

}  // namespace

std::span<const Family> last_families() {
  return kLastFamilies;
}

}  // namespace kithue::accuracy
