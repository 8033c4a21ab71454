// SPDX-License-Identifier: MIT
#include <algorithm>
#include <array>
#include <cmath>
#include <string>
#include <vector>

#include "accuracy/drawing.h"
#include "accuracy/families.h"

namespace kithue::accuracy {
namespace {

using paper::Dice;
using paper::Face;
using paper::Point;

Face chevrons(Dice& dice, double pixel) {
  Chooser choose(dice);
  Face face = begun(dice, choose.ground());
  const int inks = dice.whole(2, 6);
  for (int i = 0; i < inks; ++i) with(face, choose.ink());
  const double tooth = dice.between(0.04, 0.12);
  const double thick = std::max(5.0 * pixel, dice.between(0.006, 0.04));
  int row = 0;
  for (double y = -0.2; y < face.height + 0.2; y += thick * 1.8, ++row) {
    std::vector<Point> line;
    for (int i = 0; i * tooth < face.width + 2 * tooth; ++i) {
      line.push_back({(i - 0.5) * tooth, y + ((i & 1) != 0 ? tooth * 0.5 : 0.0)});
    }
    paper::add_stroke(face, 1 + row % inks, line, thick);
  }
  maybe_accent(face, dice, choose, pixel);
  return face;
}

Face scales(Dice& dice, double pixel) {
  Chooser choose(dice);
  Face face = begun(dice, choose.ground());
  const int inks = dice.whole(2, 5);
  for (int i = 0; i < inks; ++i) with(face, choose.ink());
  const int rim = with(face, choose.any(15.0, 90.0, 40.0));
  const double pitch = dice.between(0.05, 0.12);
  const double edge = stroke_of(dice, pixel, 4.0, 14.0);
  int row = 0;
  for (double y = -pitch; y < face.height + pitch; y += pitch * 0.5, ++row) {
    for (double x = -pitch + ((row & 1) != 0 ? pitch / 2 : 0.0); x < face.width + pitch; x += pitch) {
      paper::add_circle(face, rim, {x, y}, pitch * 0.5);
      paper::add_circle(face, 1 + (row + static_cast<int>(x / pitch + 9.0)) % inks, {x, y},
                        pitch * 0.5 - edge);
      paper::add_circle(face, 0, {x, y}, pitch * 0.2);
    }
  }
  return face;
}

Face stars(Dice& dice, double pixel) {
  Chooser choose(dice);
  Face face = begun(dice, choose.any(12.0, 35.0, 35.0));
  const int inks = dice.whole(2, 4);
  for (int i = 0; i < inks; ++i) with(face, choose.any(45.0, 95.0, 70.0));
  const int count = dice.whole(150, 600);
  for (int i = 0; i < count; ++i) {
    const double size = dice.between(0.006, 0.022);
    paper::add_star(face, 1 + i % inks, anywhere(dice, face), size, size * 0.4, 5, dice.between(0.0, kTurn));
  }
  maybe_accent(face, dice, choose, pixel);
  return face;
}

Face hatching(Dice& dice, double pixel) {
  Chooser choose(dice);
  Face face = begun(dice, choose.ground());
  const int inks = dice.whole(2, 3);
  for (int i = 0; i < inks; ++i) {
    const int colour = with(face, choose.ink());
    const double thick = stroke_of(dice, pixel, 3.0, 9.0);
    const double pitch = thick * dice.between(8.0, 16.0);
    const double turn = dice.between(0.0, 3.1);
    for (double x = -1.0; x < 2.0; x += pitch) {
      paper::add_polygon(
          face, colour,
          paper::turned(paper::rectangle(x, -1.2, x + thick, 2.6), {0.5, face.height / 2}, turn));
    }
  }
  add_accent(face, dice, choose, pixel);
  return face;
}

Face checks(Dice& dice, double pixel) {
  Chooser choose(dice);
  Face face = begun(dice, choose.ground());
  const int inks = dice.whole(2, 8);
  for (int i = 0; i < inks; ++i) with(face, choose.any(20.0, 90.0, 60.0));
  const double side = dice.between(0.015, 0.07);
  over_grid(face, side, dice.between(0.0, 1.5), false, [&](int i, int j, Point at) {
    const int colour = ((i * 3 + j * 5) % (inks + 1) + inks + 1) % (inks + 1);
    paper::add_circle(face, colour, at, side * 0.5);
  });
  maybe_accent(face, dice, choose, pixel);
  return face;
}

Face labels(Dice& dice, double pixel) {
  Chooser choose(dice);
  Face face = begun(dice, choose.ground());
  const int panel = with(face, choose.any(70.0, 96.0, 25.0));
  const int ink = with(face, choose.any(12.0, 45.0, 40.0, 25.0));
  const int rule = with(face, choose.ink());
  const double pitch = dice.between(0.18, 0.4);
  over_grid(face, pitch, 0.0, false, [&](int, int, Point at) {
    paper::add_bar(face, rule, at, pitch * 0.86, pitch * 0.5, 0.0);
    paper::add_bar(face, panel, at, pitch * 0.86 - 10 * pixel, pitch * 0.5 - 10 * pixel, 0.0);
    const double height = pitch * 0.16;
    paper::add_words(face, ink, some_words(dice, 4), {at.x - pitch * 0.3, at.y + height / 2}, height,
                     height / 7);
  });
  return face;
}

constexpr std::array kHeldOutFamilies{Family{"chevrons", chevrons},   Family{"scales", scales},
                                      Family{"stars on dark", stars}, Family{"hatching", hatching},
                                      Family{"harlequin", checks},    Family{"labels", labels}};

}  // namespace

std::span<const Family> held_out_families() {
  return kHeldOutFamilies;
}

}  // namespace kithue::accuracy
