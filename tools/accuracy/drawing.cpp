// SPDX-License-Identifier: MIT
#include "accuracy/drawing.h"

#include <algorithm>
#include <array>

namespace kithue::accuracy {

using paper::Dice;
using paper::Face;
using paper::Point;

Face begun(Dice& dice, const Lab& ground) {
  constexpr std::array kShapes{0.75, 1.0, 1.0, 1.33};
  return {1.0, kShapes[static_cast<std::size_t>(dice.whole(0, 3))], {{ground}}, {}};
}

int with(Face& face, const Lab& lab, double wash) {
  face.colours.push_back({lab, wash});
  return static_cast<int>(face.colours.size()) - 1;
}

double stroke_of(Dice& dice, double pixel, double thinnest, double thickest) {
  return pixel * std::exp(dice.between(std::log(thinnest), std::log(thickest)));
}

Point anywhere(Dice& dice, const Face& face) {
  return {dice.unit() * face.width, dice.unit() * face.height};
}

void add_accent(Face& face, Dice& dice, Chooser& choose, double pixel) {
  const int colour = with(face, choose.vivid());
  const double area = dice.between(0.0032, 0.009) * face.width * face.height;
  const double radius = std::max(3.0 * pixel, dice.between(0.004, 0.012));
  const int count = std::max(1, static_cast<int>(std::lround(area / (kTurn / 2 * radius * radius))));
  const int columns = std::max(1, static_cast<int>(std::ceil(std::sqrt(count * face.width / face.height))));
  const int rows = (count + columns - 1) / columns;
  for (int i = 0; i < count; ++i) {
    const double x = (i % columns + dice.between(0.3, 0.7)) / columns * face.width;
    const double y = (i / columns + dice.between(0.3, 0.7)) / rows * face.height;
    paper::add_circle(face, colour, {x, y}, std::sqrt(area / (kTurn / 2 * count)));
  }
}

void maybe_accent(Face& face, Dice& dice, Chooser& choose, double pixel) {
  if (dice.unit() < 0.6) add_accent(face, dice, choose, pixel);
}

std::vector<Point> scribble(Dice& dice, const Face& face, double step, int steps) {
  std::vector<Point> line{anywhere(dice, face)};
  double heading = dice.between(0.0, kTurn);
  double bend = 0.0;
  for (int i = 0; i < steps; ++i) {
    bend = 0.8 * bend + dice.between(-0.25, 0.25);
    heading += bend;
    line.push_back({line.back().x + step * std::cos(heading), line.back().y + step * std::sin(heading)});
  }
  return line;
}

std::string some_words(Dice& dice, int count) {
  std::string words;
  for (int i = 0; i < count; ++i)
    words += dice.unit() < 0.17 ? ' ' : static_cast<char>('A' + dice.whole(0, 25));
  return words;
}

}  // namespace kithue::accuracy
