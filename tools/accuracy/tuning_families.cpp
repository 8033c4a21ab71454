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

Face dots_on(Dice& dice, double pixel, Chooser& choose, Face face, int inks) {
  for (int i = 0; i < inks; ++i) with(face, choose.ink());
  const double pitch = dice.between(0.03, 0.12);
  const double turn = dice.between(0.0, 0.8);
  over_grid(face, pitch, turn, true, [&](int i, int j, Point at) {
    const int which = ((i * 2 + j) % inks + inks) % inks;
    paper::add_circle(face, 1 + which, at, pitch * (0.2 + 0.08 * which / inks));
  });
  maybe_accent(face, dice, choose, pixel);
  return face;
}

Face dots(Dice& dice, double pixel) {
  Chooser choose(dice);
  return dots_on(dice, pixel, choose, begun(dice, choose.ground()), dice.whole(2, 6));
}

Face stripes(Dice& dice, double pixel) {
  Chooser choose(dice);
  Face face = begun(dice, choose.ground());
  const int inks = dice.whole(2, 7);
  std::vector<double> widths;
  double period = 0.0;
  for (int i = 0; i <= inks; ++i) {
    if (i > 0) with(face, choose.ink());
    widths.push_back(dice.unit() < 0.3 ? stroke_of(dice, pixel, 4.0) : dice.between(0.008, 0.04));
    period += widths.back();
  }
  const double turn = dice.unit() < 0.5 ? 0.0 : dice.between(0.0, 1.6);
  const Point middle{face.width / 2, face.height / 2};
  for (double x = -1.2; x < 2.2; x += period) {
    double left = x;
    for (int i = 0; i <= inks; ++i) {
      const double right = left + widths[static_cast<std::size_t>(i)];
      if (i > 0)
        paper::add_polygon(face, i, paper::turned(paper::rectangle(left, -1.2, right, 2.6), middle, turn));
      left = right;
    }
  }
  maybe_accent(face, dice, choose, pixel);
  return face;
}

Face gingham(Dice& dice, double pixel) {
  Chooser choose(dice);
  Face face = begun(dice, choose.any(88.0, 97.0, 8.0));
  const int full = with(face, choose.any(25.0, 65.0, 65.0, 25.0));
  const int half = with(face, paper::half_tone(face.colours[0].lab, face.colours[1].lab));
  choose.take(face.colours[2].lab);
  const double side = dice.between(0.012, 0.06);
  const double turn = dice.unit() < 0.6 ? 0.0 : dice.between(0.0, 1.6);
  const Point middle{face.width / 2, face.height / 2};
  for (double x = -1.0; x < 2.0; x += 2 * side) {
    paper::add_polygon(face, half, paper::turned(paper::rectangle(x, -1.0, x + side, 2.4), middle, turn));
  }
  const std::vector<std::uint8_t> over{static_cast<std::uint8_t>(half), static_cast<std::uint8_t>(full),
                                       static_cast<std::uint8_t>(full)};
  for (double y = -1.0; y < 2.4; y += 2 * side) {
    paper::add_overlay(face, over, paper::turned(paper::rectangle(-1.0, y, 2.0, y + side), middle, turn));
  }
  maybe_accent(face, dice, choose, pixel);
  return face;
}

Face plaid(Dice& dice, double pixel) {
  Chooser choose(dice);
  Face face = begun(dice, choose.ground());
  const int band = with(face, choose.any(25.0, 80.0, 60.0, 22.0));
  const int half = with(face, paper::half_tone(face.colours[0].lab, face.colours[1].lab));
  choose.take(face.colours[2].lab);
  const double pitch = dice.between(0.08, 0.25);
  const double wide = pitch * dice.between(0.25, 0.5);
  const Point middle{face.width / 2, face.height / 2};
  const double turn = dice.unit() < 0.7 ? 0.0 : 0.785;
  const std::vector<std::uint8_t> over{static_cast<std::uint8_t>(half), static_cast<std::uint8_t>(band),
                                       static_cast<std::uint8_t>(band)};
  for (double x = -1.0; x < 2.0; x += pitch) {
    paper::add_polygon(face, half, paper::turned(paper::rectangle(x, -1.0, x + wide, 2.4), middle, turn));
  }
  for (double y = -1.0; y < 2.4; y += pitch) {
    paper::add_overlay(face, over, paper::turned(paper::rectangle(-1.0, y, 2.0, y + wide), middle, turn));
  }
  const int lines = dice.whole(1, 3);
  for (int i = 0; i < lines; ++i) {
    const int colour = with(face, choose.ink());
    const double offset = pitch * dice.between(0.05, 0.95);
    const double thick = stroke_of(dice, pixel, 3.0, 16.0);
    for (double x = -1.0 + offset; x < 2.4; x += pitch) {
      paper::add_polygon(face, colour,
                         paper::turned(paper::rectangle(x, -1.0, x + thick, 2.4), middle, turn));
      paper::add_polygon(face, colour,
                         paper::turned(paper::rectangle(-1.0, x, 2.4, x + thick), middle, turn));
    }
  }
  return face;
}

Face florals(Dice& dice, double pixel) {
  Chooser choose(dice);
  Face face = begun(dice, choose.ground());
  const int inks = dice.whole(2, 6);
  for (int i = 0; i < inks; ++i) with(face, choose.ink());
  const int eye = with(face, choose.any(60.0, 88.0, 80.0));
  const double pitch = dice.between(0.06, 0.16);
  over_grid(face, pitch, dice.between(0.0, 1.5), true, [&](int i, int j, Point at) {
    const double turn = dice.between(0.0, kTurn);
    const int kinds = std::max(1, inks - 1);
    const int petal = 2 + ((i + 2 * j) % kinds + kinds) % kinds;
    const Point centre{at.x + dice.between(-0.15, 0.15) * pitch, at.y + dice.between(-0.15, 0.15) * pitch};
    for (int leaf = 0; leaf < 2; ++leaf) {
      paper::add_leaf(face, 1, centre, pitch * 0.55, pitch * 0.2, turn + 2.4 * leaf);
    }
    paper::add_flower(face, petal, centre, pitch * dice.between(0.25, 0.38), dice.whole(4, 8), turn);
    paper::add_circle(face, eye, centre, pitch * 0.1);
  });
  maybe_accent(face, dice, choose, pixel);
  return face;
}

Face motifs(Dice& dice, double pixel) {
  Chooser choose(dice);
  Face face = begun(dice, choose.ground());
  const int inks = dice.whole(2, 7);
  for (int i = 0; i < inks; ++i) with(face, choose.ink());
  const double size = dice.between(0.008, 0.03);
  const int count = static_cast<int>(0.16 * face.height / (size * size * 2.0));
  for (int i = 0; i < count; ++i) {
    const Point at = anywhere(dice, face);
    const double turn = dice.between(0.0, kTurn);
    const int colour = 1 + i % inks;
    switch (dice.whole(0, 3)) {
      case 0:
        paper::add_star(face, colour, at, size, size * 0.45, dice.whole(4, 7), turn);
        break;
      case 1:
        paper::add_leaf(face, colour, at, size * 2.0, size * 0.8, turn);
        break;
      case 2:
        paper::add_bar(face, colour, at, size * 1.6, size * 0.6, turn);
        break;
      default:
        paper::add_circle(face, colour, at, size * 0.7);
    }
  }
  maybe_accent(face, dice, choose, pixel);
  return face;
}

Face lines(Dice& dice, double pixel) {
  Chooser choose(dice);
  Face face = begun(dice, choose.any(75.0, 96.0, 18.0));
  const int inks = dice.whole(2, 4);
  for (int i = 0; i < inks; ++i) {
    const int colour = with(face, choose.any(15.0, 65.0, 60.0));
    const double thick = stroke_of(dice, pixel, 2.0, 9.0);
    const double length = dice.between(0.012, 0.05) * face.height / thick;
    const int pieces = std::max(1, static_cast<int>(length / 0.6));
    for (int k = 0; k < pieces; ++k) paper::add_stroke(face, colour, scribble(dice, face, 0.01, 60), thick);
  }
  return face;
}

Face text(Dice& dice, double pixel) {
  Chooser choose(dice);
  Face face = begun(dice, choose.any(75.0, 96.0, 16.0));
  const int inks = dice.whole(2, 3);
  for (int i = 0; i < inks; ++i) with(face, choose.any(12.0, 60.0, 60.0));
  const double thick = stroke_of(dice, pixel, 2.0, 8.0);
  const double height = thick * dice.between(6.0, 10.0);
  const double turn = dice.unit() < 0.5 ? 0.0 : dice.between(-0.6, 0.6);
  int row = 0;
  for (double y = -0.6; y < face.height + 0.7; y += height * 1.9, ++row) {
    const int letters = static_cast<int>(1.9 / (height * 0.95));
    paper::add_words(face, 1 + row % inks, some_words(dice, letters), {-0.4, y}, height, thick, turn);
  }
  if (dice.unit() < 0.5) add_accent(face, dice, choose, pixel);
  return face;
}

Face tones(Dice& dice, double pixel) {
  Chooser choose(dice);
  Face face = begun(dice, choose.any(30.0, 90.0, 45.0));
  with(face, choose.near(face.colours[0].lab, 5.0, 8.0));
  if (dice.unit() < 0.5) with(face, choose.ink());
  const double pitch = dice.between(0.05, 0.15);
  const int more = static_cast<int>(face.colours.size()) - 1;
  over_grid(face, pitch, dice.between(0.0, 1.5), true, [&](int i, int j, Point at) {
    const int colour = more == 2 && ((i % 3 + 3) % 3) == 0 ? 2 : 1;
    if ((j & 1) != 0) {
      paper::add_flower(face, colour, at, pitch * 0.4, 6, 0.3);
    } else {
      paper::add_leaf(face, colour, at, pitch * 0.7, pitch * 0.3, i + j);
    }
  });
  maybe_accent(face, dice, choose, pixel);
  return face;
}

Face wash(Dice& dice, double pixel) {
  Chooser choose(dice);
  Face face = begun(dice, choose.any(88.0, 96.0, 8.0));
  face.colours[0].wash = 0.0;
  const int inks = dice.whole(2, 4);
  for (int i = 0; i < inks; ++i) with(face, choose.any(45.0, 82.0, 50.0, 16.0), dice.between(0.02, 0.07));
  const double pitch = dice.between(0.12, 0.3);
  over_grid(face, pitch, dice.between(0.0, 1.5), true, [&](int i, int j, Point at) {
    const int colour = 1 + ((i + 3 * j) % inks + inks) % inks;
    paper::add_flower(face, colour, at, pitch * dice.between(0.35, 0.5), dice.whole(3, 7),
                      dice.between(0.0, kTurn));
  });
  maybe_accent(face, dice, choose, pixel);
  return face;
}

Face kraft(Dice& dice, double pixel) {
  Chooser choose(dice);
  const Lab brown{dice.between(58.0, 72.0), dice.between(6.0, 12.0), dice.between(18.0, 30.0)};
  choose.take(brown);
  Face face = dots_on(dice, pixel, choose, begun(dice, brown), dice.whole(2, 4));
  const int white = with(face, choose.any(92.0, 97.0, 5.0));
  const double thick = stroke_of(dice, pixel, 3.0, 10.0);
  const int count = 1 + static_cast<int>(0.02 * face.height / thick / 0.4);
  for (int k = 0; k < count; ++k) paper::add_stroke(face, white, scribble(dice, face, 0.01, 40), thick);
  return face;
}

Face cream(Dice& dice, double pixel) {
  Chooser choose(dice);
  const Lab ground{dice.between(90.0, 96.0), dice.between(-1.0, 3.0), dice.between(6.0, 16.0)};
  choose.take(ground);
  Face face = dots_on(dice, pixel, choose, begun(dice, ground), dice.whole(2, 4));
  const int ink = with(face, choose.any(20.0, 50.0, 40.0));
  const double thick = stroke_of(dice, pixel, 2.5, 9.0);
  const double height = thick * 8;
  for (double y = 0.1; y < face.height; y += std::max(0.12, 2.5 * height)) {
    paper::add_words(face, ink, some_words(dice, static_cast<int>(0.8 / height)), {0.05, y}, height, thick);
  }
  return face;
}

Face near_white(Dice& dice, double pixel) {
  Chooser choose(dice);
  Face face = begun(dice, choose.any(95.0, 97.5, 3.0));
  const int soft = dice.whole(1, 3);
  for (int i = 0; i < soft; ++i) with(face, choose.any(84.0, 93.0, 16.0, 6.0));
  const double pitch = dice.between(0.05, 0.14);
  over_grid(face, pitch, dice.between(0.0, 1.5), false, [&](int i, int j, Point at) {
    paper::add_flower(face, 1 + ((i + j) % soft + soft) % soft, at, pitch * 0.42, 5, 0.4 * i);
  });
  const int ink = with(face, choose.ink());
  over_grid(face, pitch, 0.2, false, [&](int i, int j, Point at) {
    if (((i + j) & 1) == 0) paper::add_star(face, ink, at, pitch * 0.18, pitch * 0.09, 5, 0.1 * j);
  });
  maybe_accent(face, dice, choose, pixel);
  return face;
}

constexpr std::array kTuningFamilies{Family{"dots", dots},
                                     Family{"stripes", stripes},
                                     Family{"gingham", gingham},
                                     Family{"plaid", plaid},
                                     Family{"florals", florals},
                                     Family{"small motifs", motifs},
                                     Family{"line drawing", lines},
                                     Family{"printed text", text},
                                     Family{"tone on tone", tones},
                                     Family{"watercolour wash", wash},
                                     Family{"kraft ground", kraft},
                                     Family{"cream ground", cream},
                                     Family{"near-white", near_white}};

}  // namespace

std::span<const Family> tuning_families() {
  return kTuningFamilies;
}

}  // namespace kithue::accuracy
