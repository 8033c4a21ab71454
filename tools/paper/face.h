// SPDX-License-Identifier: MIT
#pragma once

#include <cstdint>
#include <string_view>
#include <vector>

#include "colour/lab.h"

/// Drawing patterned paper with known colours, for the demo pack, the accuracy table and tests.
namespace kithue::paper {

/// In the unit of the face (millimetres in the demo pack); x to the right, y down, from the top left corner.
struct Point {
  double x = 0.0;
  double y = 0.0;
};

/// A colour as it is printed.
struct Paint {
  Lab lab;  ///< inside the sRGB gamut, or the camera cuts it
  double wash =
      0.0;  ///< watercolour: how far its density wanders (standard deviation), 0 = flat, 0.05 = strong
};

/// A closed outline filled with one colour. Later shapes cover earlier ones.
struct Shape {
  std::uint8_t colour = 0;             ///< index in Face::colours
  std::vector<Point> outline;          ///< closed by itself; even-odd filling; 3 points or more
  std::vector<std::uint8_t> overlaid;  ///< not empty: transparent, turns colour i below into overlaid[i]
};

/// A face before it is photographed. The ground, colour 0, fills it.
struct Face {
  double width = 1.0;
  double height = 1.0;
  std::vector<Paint> colours;  ///< at most 255
  std::vector<Shape> shapes;
};

/// The same numbers for the same seed on every machine.
class Dice {
 public:
  explicit Dice(std::uint64_t seed) : state_(seed) {}
  std::uint64_t bits() noexcept;
  double unit() noexcept;  ///< 0 up to but not including 1
  double between(double low, double high) noexcept { return low + (high - low) * unit(); }
  int whole(int low, int high) noexcept;  ///< low to high, both included

 private:
  std::uint64_t state_;
};

/// Adds `outline` to the face in the given colour.
void add_polygon(Face& face, int colour, std::vector<Point> outline);
void add_circle(Face& face, int colour, Point centre, double radius);
void add_ellipse(Face& face, int colour, Point centre, double along, double across, double turn_radians);
/// A rectangle turned about its centre.
void add_bar(Face& face, int colour, Point centre, double length, double thickness, double turn_radians);
/// A line of constant thickness with round ends and joints.
void add_stroke(Face& face, int colour, const std::vector<Point>& line, double thickness);
/// A star, or a scalloped flower when `round` is set.
void add_star(Face& face, int colour, Point centre, double outer, double inner, int points,
              double turn_radians);
void add_flower(Face& face, int colour, Point centre, double radius, int petals, double turn_radians);
void add_leaf(Face& face, int colour, Point stem, double length, double breadth, double turn_radians);
/// One repeat of houndstooth, `side` wide and high, its upper left corner at `at`.
void add_houndstooth(Face& face, int colour, Point at, double side);
/// Capital letters A-Z, digits, space and a few marks, drawn with strokes: no font is needed. `at` is the
/// lower left corner of the first letter.
void add_words(Face& face, int colour, std::string_view words, Point at, double height, double thickness,
               double turn_radians = 0.0);
/// How far add_words moves to the right for these words.
double width_of_words(std::string_view words, double height);
/// Something transparent: colour i below it becomes overlaid[i].
void add_overlay(Face& face, std::vector<std::uint8_t> overlaid, std::vector<Point> outline);
/// A rectangle by its corners, for stripes.
std::vector<Point> rectangle(double left, double top, double right, double bottom);
/// The outline turned about a point.
std::vector<Point> turned(std::vector<Point> outline, Point about, double radians);

/// The Lab of two colours mixed half and half in linear light: the half-tone of a woven check.
Lab half_tone(const Lab& x, const Lab& y, double part_of_y = 0.5);

}  // namespace kithue::paper
