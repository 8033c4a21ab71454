// SPDX-License-Identifier: MIT
#include <algorithm>
#include <array>
#include <cmath>
#include <cstddef>
#include <vector>

#include "accuracy/drawing.h"
#include "accuracy/families.h"

namespace kithue::accuracy {
namespace {

using paper::Dice;
using paper::Face;
using paper::Point;

/// Rings of several colours around one middle, some of them no wider than a line.
Face rings(Dice& dice, double pixel) {
  Chooser choose(dice);
  Face face = begun(dice, choose.ground());
  const int inks = dice.whole(3, 6);
  for (int i = 0; i < inks; ++i) with(face, choose.ink());
  const double pitch = dice.between(0.08, 0.2);
  over_grid(face, pitch, dice.between(0.0, 1.5), true, [&](int i, int j, Point at) {
    double r = pitch * 0.46;
    for (int k = 0; k < 5 && r > 4 * pixel; ++k) {
      paper::add_circle(face, (k + i + j) % 2 == 0 && k > 0 ? 0 : 1 + ((i + 2 * j + k) % inks + inks) % inks,
                        at, r);
      r -= std::max(3.0 * pixel, pitch * dice.between(0.03, 0.12));
    }
  });
  return face;
}

/// Strips woven over and under one another, with the dark ground in the gaps.
Face basket(Dice& dice, double pixel) {
  Chooser choose(dice);
  Face face = begun(dice, choose.any(15.0, 45.0, 20.0));
  const int inks = dice.whole(2, 4);
  for (int i = 0; i < inks; ++i) with(face, choose.any(45.0, 92.0, 50.0));
  const double side = dice.between(0.02, 0.07);
  const double gap = std::max(2.0 * pixel, side * dice.between(0.04, 0.15));
  over_grid(face, side, dice.between(0.0, 0.8), false, [&](int i, int j, Point at) {
    const int colour = 1 + ((i * 3 + j) % inks + inks) % inks;
    for (int k = -1; k <= 1; ++k) {
      const double off = k * side / 3;
      const bool across = ((i + j) & 1) == 0;
      const double half = side / 6 - gap / 2;
      const double reach = side * 0.48;
      paper::add_polygon(
          face, colour,
          across ? paper::rectangle(at.x - reach, at.y + off - half, at.x + reach, at.y + off + half)
                 : paper::rectangle(at.x + off - half, at.y - reach, at.x + off + half, at.y + reach));
    }
  });
  maybe_accent(face, dice, choose, pixel);
  return face;
}

/// Staves of thin lines with notes on them, a few in colour.
Face music(Dice& dice, double pixel) {
  Chooser choose(dice);
  Face face = begun(dice, choose.any(84.0, 97.0, 12.0));
  const int line = with(face, choose.any(10.0, 50.0, 20.0));
  const int inks = dice.whole(1, 3);
  for (int i = 0; i < inks; ++i) with(face, choose.ink());
  const double thick = stroke_of(dice, pixel, 2.5, 5.0);
  const double gap = thick * dice.between(5.0, 9.0);
  for (double y = 0.03; y < face.height; y += gap * 8) {
    for (int k = 0; k < 5; ++k)
      paper::add_polygon(face, line, paper::rectangle(-0.1, y + k * gap, 1.1, y + k * gap + thick));
    for (double x = 0.02; x < 1.0; x += gap * dice.between(1.5, 3.5)) {
      const int colour = dice.unit() < 0.6 ? line : 2 + dice.whole(0, inks - 1);
      const Point at{x, y + gap * dice.between(0.0, 4.0)};
      paper::add_ellipse(face, colour, at, gap * 0.6, gap * 0.4, -0.3);
      paper::add_polygon(
          face, colour,
          paper::rectangle(at.x + gap * 0.5, at.y - gap * 3, at.x + gap * 0.5 + thick * 1.4, at.y));
    }
  }
  return face;
}

/// Blocks in pale shades near to one another, parted by streets of white.
Face streets(Dice& dice, double pixel) {
  Chooser choose(dice);
  Face face = begun(dice, choose.any(93.0, 98.0, 4.0));
  const int inks = dice.whole(2, 5);
  for (int i = 0; i < inks; ++i) with(face, choose.any(70.0, 92.0, 25.0, 5.5));
  const double street = stroke_of(dice, pixel, 3.0, 10.0);
  for (double y = 0.0; y < face.height;) {
    const double h = dice.between(0.02, 0.08);
    for (double x = 0.0; x < 1.0;) {
      const double w = dice.between(0.02, 0.1);
      paper::add_polygon(face, 1 + dice.whole(0, inks - 1), paper::rectangle(x, y, x + w, y + h));
      x += w + street;
    }
    y += h + street;
  }
  maybe_accent(face, dice, choose, pixel);
  return face;
}

/// Drops with a row of small dots around each.
Face dotted_drops(Dice& dice, double pixel) {
  Chooser choose(dice);
  Face face = begun(dice, choose.ground());
  const int inks = dice.whole(2, 4);
  for (int i = 0; i < inks; ++i) with(face, choose.ink());
  const int dot = with(face, choose.ink());
  const double pitch = dice.between(0.1, 0.2);
  const double r = pixel * dice.between(2.0, 5.0);
  over_grid(face, pitch, dice.between(0.0, 1.5), true, [&](int i, int j, Point at) {
    const double turn = dice.between(0.0, kTurn);
    const std::size_t before = face.shapes.size();
    paper::add_leaf(face, 1 + ((i + 2 * j) % inks + inks) % inks, at, pitch * 0.6, pitch * 0.3, turn);
    const std::vector<Point> around = face.shapes[before].outline;
    Point middle{0.0, 0.0};
    const double part = 1.0 / static_cast<double>(around.size());
    for (const Point& p : around) {
      middle.x += part * p.x;
      middle.y += part * p.y;
    }
    double walked = 0.0;
    for (std::size_t k = 0; k < around.size(); ++k) {
      const Point& p = around[k];
      const Point& q = around[(k + 1) % around.size()];
      walked += std::hypot(p.x - q.x, p.y - q.y);
      if (walked < r * 3.4) continue;
      walked = 0.0;
      paper::add_circle(face, dot, {middle.x + 1.25 * (p.x - middle.x), middle.y + 1.25 * (p.y - middle.y)},
                        r);
    }
  });
  return face;
}

/// Patches of close hatching in one ink, as on printed toile.
Face toile(Dice& dice, double pixel) {
  Chooser choose(dice);
  Face face = begun(dice, choose.any(86.0, 97.0, 14.0));
  const int ink = with(face, choose.any(20.0, 60.0, 55.0));
  const double thick = stroke_of(dice, pixel, 2.0, 4.0);
  const int patches = dice.whole(12, 40);
  for (int p = 0; p < patches; ++p) {
    const Point at = anywhere(dice, face);
    const double size = dice.between(0.04, 0.1);
    const double turn = dice.between(0.0, kTurn);
    paper::add_flower(face, ink, at, size * 0.3, dice.whole(4, 8), turn);
    for (double y = -size; y < size; y += thick * dice.between(2.2, 4.0)) {
      const double half = std::sqrt(std::max(0.0, size * size - y * y));
      paper::add_polygon(
          face, ink,
          paper::turned(paper::rectangle(at.x - half, at.y + y, at.x + half, at.y + y + thick), at, turn));
    }
  }
  maybe_accent(face, dice, choose, pixel);
  return face;
}

/// Houndstooth of 8 to 40 pixels, mostly with lines across it.
Face houndstooth(Dice& dice, double pixel) {
  Chooser choose(dice);
  Face face = begun(dice, choose.ground());
  with(face, choose.any(15.0, 60.0, 50.0));
  const double side = pixel * dice.between(8.0, 40.0);
  for (double y = 0; y < face.height; y += side) {
    for (double x = 0; x < 1.0; x += side) paper::add_houndstooth(face, 1, {x, y}, side);
  }
  if (dice.unit() < 0.7) {
    const int over = with(face, choose.ink());
    const double thick = stroke_of(dice, pixel, 3.0, 8.0);
    for (double x = 0.05; x < 1.4; x += 0.2) {
      paper::add_polygon(face, over, paper::rectangle(x, -0.1, x + thick, 2.0));
      paper::add_polygon(face, over, paper::rectangle(-0.1, x, 1.1, x + thick));
    }
  }
  maybe_accent(face, dice, choose, pixel);
  return face;
}

/// Pin dots of 2 to 6 pixels.
Face pin_dots(Dice& dice, double pixel) {
  Chooser choose(dice);
  Face face = begun(dice, choose.any(20.0, 96.0, 40.0));
  const int inks = dice.whole(1, 5);
  for (int i = 0; i < inks; ++i) with(face, choose.any(15.0, 97.0, 60.0));
  const double r = pixel * dice.between(2.0, 6.0);
  const double pitch = r * dice.between(5.0, 9.0);
  over_grid(face, pitch, dice.between(0.0, 1.5), true, [&](int i, int j, Point at) {
    paper::add_circle(face, 1 + ((i + 2 * j) % inks + inks) % inks, at, r);
  });
  return face;
}

/// Leaves in pairs of near shades that touch.
Face near_shades(Dice& dice, double pixel) {
  Chooser choose(dice);
  Face face = begun(dice, choose.ground());
  const int pairs = dice.whole(1, 3);
  for (int i = 0; i < pairs; ++i) {
    const Lab one = choose.ink();
    with(face, one);
    with(face, choose.near(one, 5.5, 9.0));
  }
  const int inks = 2 * pairs;
  const double pitch = dice.between(0.05, 0.14);
  over_grid(face, pitch, dice.between(0.0, 1.5), true, [&](int i, int j, Point at) {
    const int c = ((i + 2 * j) % inks + inks) % inks;
    paper::add_leaf(face, 1 + c, at, pitch * 0.6, pitch * 0.3, 0.7 * i + j);
    paper::add_leaf(face, 1 + (c ^ 1), at, pitch * 0.5, pitch * 0.26, 0.7 * i + j + 2.5);
  });
  maybe_accent(face, dice, choose, pixel);
  return face;
}

/// Light letters on dark panels.
Face light_text(Dice& dice, double pixel) {
  Chooser choose(dice);
  Face face = begun(dice, choose.any(15.0, 55.0, 50.0));
  const int panels = dice.whole(1, 3);
  for (int i = 0; i < panels; ++i) with(face, choose.any(20.0, 60.0, 60.0));
  const int light = with(face, choose.any(86.0, 97.0, 10.0));
  const double thick = stroke_of(dice, pixel, 2.5, 7.0);
  const double height = thick * dice.between(6.0, 10.0);
  int row = 0;
  for (double y = 0.02; y < face.height; y += height * 6, ++row)
    paper::add_polygon(face, 1 + row % panels, paper::rectangle(-0.1, y, 1.1, y + height * 3));
  for (double y = -0.1; y < face.height + 0.1; y += height * 2.1)
    paper::add_words(face, light, some_words(dice, static_cast<int>(1.2 / (height * 0.95))), {-0.05, y},
                     height, thick);
  maybe_accent(face, dice, choose, pixel);
  return face;
}

/// Stars, and one band with a line below it that come but once.
Face border(Dice& dice, double pixel) {
  Chooser choose(dice);
  Face face = dice.unit() < 0.5 ? begun(dice, choose.ground()) : begun(dice, choose.any(30.0, 90.0, 40.0));
  const int inks = dice.whole(2, 4);
  for (int i = 0; i < inks; ++i) with(face, choose.ink());
  const int band = with(face, choose.ink());
  const int line = with(face, choose.ink());
  const double pitch = dice.between(0.04, 0.1);
  over_grid(face, pitch, 0.0, false, [&](int i, int j, Point at) {
    paper::add_star(face, 1 + ((i + j) % inks + inks) % inks, at, pitch * 0.3, pitch * 0.15, 5, 0.3 * i);
  });
  const double y = dice.between(0.1, 0.5);
  const double w = dice.between(0.01, 0.04);
  const double t = std::max(0.0045, stroke_of(dice, pixel, 4.0, 12.0));
  paper::add_polygon(face, band, paper::rectangle(-0.1, y, 1.1, y + w));
  paper::add_polygon(face, line, paper::rectangle(-0.1, y + w, 1.1, y + w + t));
  return face;
}

/// Strokes of crayon, uneven in strength.
Face crayon(Dice& dice, double pixel) {
  Chooser choose(dice);
  Face face = begun(dice, choose.any(85.0, 97.0, 10.0));
  const int inks = dice.whole(3, 6);
  for (int i = 0; i < inks; ++i) with(face, choose.any(35.0, 85.0, 65.0, 14.0), dice.between(0.01, 0.05));
  const int count = dice.whole(60, 200);
  for (int i = 0; i < count; ++i)
    paper::add_stroke(face, 1 + i % inks, scribble(dice, face, 0.012, 30), pixel * dice.between(6.0, 22.0));
  return face;
}

/// Rows and columns of dashes, a colour each, as of stitching.
Face stitching(Dice& dice, double pixel) {
  Chooser choose(dice);
  Face face = begun(dice, choose.ground());
  const int inks = dice.whole(2, 5);
  for (int i = 0; i < inks; ++i) with(face, choose.ink());
  const double pitch = pixel * dice.between(30.0, 80.0);
  const double period = pixel * dice.between(8.0, 20.0);
  const double thick = stroke_of(dice, pixel, 2.5, 6.0);
  int line = 0;
  for (double y = pitch / 2; y < face.height; y += pitch, ++line) {
    for (double x = 0.0; x < 1.0; x += period)
      paper::add_polygon(face, 1 + line % inks, paper::rectangle(x, y, x + 0.6 * period, y + thick));
  }
  line = 1;
  for (double x = pitch / 2; x < 1.0; x += pitch, ++line) {
    for (double y = 0.0; y < face.height; y += period)
      paper::add_polygon(face, 1 + line % inks, paper::rectangle(x, y, x + thick, y + 0.6 * period));
  }
  return face;
}

/// Scales in rows, each with an outline around it and the ground in its middle.
Face outlined_scales(Dice& dice, double pixel) {
  Chooser choose(dice);
  Face face = begun(dice, choose.ground());
  const int outline = with(face, choose.any(15.0, 60.0, 40.0));
  const int inks = dice.whole(1, 4);
  for (int i = 0; i < inks; ++i) with(face, choose.ink());
  const double r = pixel * dice.between(18.0, 60.0);
  const double thick = stroke_of(dice, pixel, 2.5, 5.0);
  int row = 0;
  for (double y = -r; y < face.height + 2 * r; y += 0.62 * r, ++row) {
    for (double x = row % 2 == 0 ? 0.0 : r; x < 1.0 + r; x += 2 * r) {
      paper::add_circle(face, outline, {x, y}, r);
      paper::add_circle(face, 2 + row % inks, {x, y}, r - thick);
      paper::add_circle(face, 0, {x, y}, 0.45 * r);
    }
  }
  return face;
}

/// Stripes of different colours and widths across one another in close groups.
Face windowpanes(Dice& dice, double pixel) {
  Chooser choose(dice);
  Face face = begun(dice, choose.ground());
  const int inks = dice.whole(3, 6);
  const double pitch = pixel * dice.between(60.0, 120.0);
  for (int i = 0; i < inks; ++i) {
    const int colour = with(face, choose.ink());
    const double thick = stroke_of(dice, pixel, 2.5, 10.0);
    for (double at = pitch * dice.unit(); at < 1.4; at += pitch) {
      paper::add_polygon(face, colour,
                         i % 2 == 0 ? paper::rectangle(-0.1, at, 1.1, at + thick)
                                    : paper::rectangle(at, -0.1, at + thick, 2.0));
    }
  }
  return face;
}

/// Stripes with gaps as narrow as they are.
Face close_stripes(Dice& dice, double pixel) {
  Chooser choose(dice);
  Face face = begun(dice, choose.ground());
  const int inks = dice.whole(2, 6);
  std::vector<double> thick;
  std::vector<double> gap;
  for (int i = 0; i < inks; ++i) {
    with(face, choose.ink());
    thick.push_back(pixel * dice.between(2.5, 14.0));
    gap.push_back(pixel * dice.between(3.0, 20.0));
  }
  for (double x = 0.0; x < 1.0;) {
    for (std::size_t i = 0; i < thick.size(); ++i) {
      paper::add_polygon(face, static_cast<int>(i) + 1, paper::rectangle(x, -0.1, x + thick[i], 2.0));
      x += thick[i] + gap[i];
    }
  }
  return face;
}

/// Lines with rims of another colour on both sides, without a gap.
Face rimmed_lines(Dice& dice, double pixel) {
  Chooser choose(dice);
  Face face = begun(dice, choose.ground());
  const int kinds = dice.whole(1, 3);
  const double pitch = pixel * dice.between(40.0, 90.0);
  const double turn = dice.between(-0.6, 0.6);
  struct Kind {
    int rim, line;
    double width, rims;
  };
  std::vector<Kind> lines;
  for (int i = 0; i < kinds; ++i) {
    const int rim = with(face, choose.any(15.0, 65.0, 45.0));
    lines.push_back({rim, with(face, choose.ink()), pixel * dice.between(3.0, 8.0),
                     2.0 * pixel * dice.between(2.5, 5.0)});
  }
  int number = 0;
  for (double at = -1.0; at < 2.0; at += pitch, ++number) {
    const Kind& kind = lines[static_cast<std::size_t>(number % kinds)];
    paper::add_bar(face, kind.rim, {0.5 + at, 0.5}, kind.width + kind.rims, 4.0, turn);
    paper::add_bar(face, kind.line, {0.5 + at, 0.5}, kind.width, 4.0, turn);
  }
  return face;
}

constexpr std::array kFurtherFamilies{Family{"rings", rings},
                                      Family{"basket weave", basket},
                                      Family{"music", music},
                                      Family{"streets", streets},
                                      Family{"dotted drops", dotted_drops},
                                      Family{"toile", toile},
                                      Family{"houndstooth", houndstooth},
                                      Family{"pin dots", pin_dots},
                                      Family{"near shades", near_shades},
                                      Family{"light text", light_text},
                                      Family{"border", border},
                                      Family{"crayon", crayon},
                                      Family{"stitching", stitching},
                                      Family{"outlined scales", outlined_scales},
                                      Family{"windowpanes", windowpanes},
                                      Family{"close stripes", close_stripes},
                                      Family{"rimmed lines", rimmed_lines}};

}  // namespace

std::span<const Family> further_families() {
  return kFurtherFamilies;
}

}  // namespace kithue::accuracy
