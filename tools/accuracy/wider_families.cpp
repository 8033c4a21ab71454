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

/// A closed line around a hill: wobbling, as on a map.
std::vector<Point> contour(Point middle, double radius, double wobble, double phase) {
  constexpr int kSteps = 120;
  std::vector<Point> line;
  for (int i = 0; i <= kSteps; ++i) {
    const double a = kTurn * i / kSteps;
    const double r =
        radius * (1.0 + wobble * std::sin(3 * a + phase) + 0.5 * wobble * std::sin(5 * a + 2.3 * phase));
    line.push_back({middle.x + r * std::cos(a), middle.y + r * std::sin(a)});
  }
  return line;
}

Face contours(Dice& dice, double pixel) {
  Chooser choose(dice);
  Face face = begun(dice, choose.ground());
  const int inks = dice.whole(1, 3);
  std::vector<double> thick;
  for (int i = 0; i < inks; ++i) {
    with(face, choose.ink());
    thick.push_back(stroke_of(dice, pixel, 2.5, 7.0));
  }
  const double gap = pixel * dice.between(18.0, 40.0);
  for (int hill = 0; hill < 5; ++hill) {
    const Point middle = anywhere(dice, face);
    const double phase = dice.between(0.0, kTurn);
    int ring = 0;
    for (double r = gap; r < 0.3; r += gap, ++ring) {
      const int which = ring % inks;
      paper::add_stroke(face, 1 + which, contour(middle, r, 0.12, phase),
                        thick[static_cast<std::size_t>(which)]);
    }
  }
  maybe_accent(face, dice, choose, pixel);
  return face;
}

Face herringbone(Dice& dice, double pixel) {
  Chooser choose(dice);
  Face face = begun(dice, choose.ground());
  const int inks = dice.whole(2, 5);
  for (int i = 0; i < inks; ++i) with(face, choose.ink());
  const double thick = pixel * dice.between(10.0, 40.0);
  const double length = thick * dice.between(3.0, 6.0);
  const double column = length * 0.72;
  int n = 0;
  for (double x = -column; x < face.width + column; x += column, ++n) {
    const double turn = (n & 1) != 0 ? kTurn / 8 : -kTurn / 8;
    int k = n;
    for (double y = -length; y < face.height + length; y += thick * 1.42, ++k) {
      paper::add_bar(face, 1 + k % inks, {x, y}, length, thick * 1.02, turn);
    }
  }
  maybe_accent(face, dice, choose, pixel);
  return face;
}

Face confetti(Dice& dice, double pixel) {
  Chooser choose(dice);
  Face face = begun(dice, choose.ground());
  const int inks = dice.whole(3, 8);
  for (int i = 0; i < inks; ++i) with(face, choose.ink());
  const double size = pixel * dice.between(8.0, 24.0);
  const int count = static_cast<int>(0.25 * face.height / (size * size));
  for (int i = 0; i < count; ++i) {
    const Point at = anywhere(dice, face);
    if ((i & 1) != 0) {
      paper::add_circle(face, 1 + i % inks, at, size * dice.between(0.35, 0.6));
    } else {
      paper::add_bar(face, 1 + i % inks, at, size * dice.between(0.8, 1.6), size * dice.between(0.4, 0.7),
                     dice.between(0.0, kTurn));
    }
  }
  return face;
}

/// A stroke of a dry brush: hairs side by side that leave the paper at their own places.
void brush(Face& face, Dice& dice, int colour, double breadth, double pixel) {
  const std::vector<Point> spine = scribble(dice, face, breadth * 0.4, dice.whole(10, 30));
  const int hairs = std::max(3, static_cast<int>(breadth / (4.0 * pixel)));
  for (int h = 0; h < hairs; ++h) {
    const double off = breadth * ((h + 0.5) / hairs - 0.5);
    const std::size_t most = spine.size() - 1;
    const auto last = static_cast<std::size_t>(static_cast<double>(most) * dice.between(0.6, 1.0));
    std::vector<Point> line;
    for (std::size_t i = 0; i < last; ++i) {
      const double along = std::atan2(spine[i + 1].y - spine[i].y, spine[i + 1].x - spine[i].x);
      line.push_back({spine[i].x - off * std::sin(along), spine[i].y + off * std::cos(along)});
    }
    if (line.size() > 1) paper::add_stroke(face, colour, line, breadth / hairs * 1.1);
  }
}

Face brushes(Dice& dice, double pixel) {
  Chooser choose(dice);
  Face face = begun(dice, choose.any(85.0, 96.0, 12.0));
  const int inks = dice.whole(2, 5);
  for (int i = 0; i < inks; ++i) with(face, choose.any(25.0, 80.0, 60.0, 14.0), dice.between(0.0, 0.03));
  const int count = dice.whole(12, 40);
  for (int i = 0; i < count; ++i) brush(face, dice, 1 + i % inks, dice.between(0.012, 0.04), pixel);
  maybe_accent(face, dice, choose, pixel);
  return face;
}

/// A run of loops, as in joined handwriting.
std::vector<Point> loops(Dice& dice, Point at, double height, int letters) {
  std::vector<Point> line;
  double x = 0.0;
  for (int k = 0; k < letters; ++k) {
    const double tall = height * (dice.unit() < 0.25 ? 1.0 : 0.5);
    const double wide = height * dice.between(0.25, 0.45);
    constexpr int kSteps = 14;
    for (int i = 0; i < kSteps; ++i) {
      const double t = kTurn * i / kSteps;
      line.push_back({at.x + x + wide * (static_cast<double>(i) / kSteps) + 0.3 * wide * std::sin(t) +
                          0.25 * tall * 0.5 * (1.0 - std::cos(t)),
                      at.y - tall * 0.5 * (1.0 - std::cos(t))});
    }
    x += wide;
  }
  return line;
}

Face script(Dice& dice, double pixel) {
  Chooser choose(dice);
  Face face = begun(dice, choose.ground());
  const int inks = dice.whole(1, 3);
  std::vector<double> thick;
  for (int i = 0; i < inks; ++i) {
    with(face, choose.any(15.0, 70.0, 60.0, 15.0));
    thick.push_back(stroke_of(dice, pixel, 2.2, 7.0));
  }
  const double height = thick[0] * dice.between(10.0, 18.0);
  int row = 0;
  for (double y = height; y < face.height + height; y += height * 1.4, ++row) {
    const auto which = static_cast<std::size_t>(row % inks);
    double x = -0.1 * dice.unit();
    while (x < 1.0) {
      const int letters = dice.whole(3, 9);
      paper::add_stroke(face, 1 + row % inks, loops(dice, {x, y}, height, letters), thick[which]);
      x += letters * height * 0.36 + height * 0.4;
    }
  }
  maybe_accent(face, dice, choose, pixel);
  return face;
}

Face mosaic(Dice& dice, double pixel) {
  Chooser choose(dice);
  Face face = begun(dice, choose.any(30.0, 95.0, 12.0));
  const int inks = dice.whole(3, 7);
  for (int i = 0; i < inks; ++i) with(face, choose.any(20.0, 90.0, 60.0));
  const double pitch = dice.between(0.02, 0.06);
  const double joint = stroke_of(dice, pixel, 3.0, 9.0);
  over_grid(face, pitch, 0.0, true, [&](int, int, Point at) {
    std::vector<Point> hexagon;
    for (int k = 0; k < 6; ++k) {
      const double a = kTurn * (k + 0.5) / 6;
      hexagon.push_back({at.x + (pitch * 0.577 - joint * 0.577) * std::cos(a),
                         at.y + (pitch * 0.577 - joint * 0.577) * std::sin(a)});
    }
    paper::add_polygon(face, 1 + dice.whole(0, inks - 1), std::move(hexagon));
  });
  return face;
}

constexpr std::array kWiderFamilies{Family{"contour lines", contours}, Family{"herringbone", herringbone},
                                    Family{"confetti", confetti},      Family{"brush strokes", brushes},
                                    Family{"script", script},          Family{"mosaic", mosaic}};

}  // namespace

std::span<const Family> wider_families() {
  return kWiderFamilies;
}

}  // namespace kithue::accuracy
