// SPDX-License-Identifier: MIT
#include "paper/face.h"

#include <algorithm>
#include <cmath>
#include <numbers>

#include "colour/srgb.h"

namespace kithue::paper {
namespace {

constexpr double kTurn = 2.0 * std::numbers::pi;

Point moved(Point at, double distance, double radians) {
  return {at.x + distance * std::cos(radians), at.y + distance * std::sin(radians)};
}

/// Enough corners that no one sees them at any size we draw.
int corners_for(double radius, double face_width) {
  return std::clamp(static_cast<int>(2000.0 * std::sqrt(radius / face_width)), 16, 720);
}

}  // namespace

std::uint64_t Dice::bits() noexcept {
  // SplitMix64: Steele, Lea & Flood, "Fast splittable pseudorandom number generators", OOPSLA 2014.
  state_ += 0x9e3779b97f4a7c15U;
  std::uint64_t z = state_;
  z = (z ^ (z >> 30U)) * 0xbf58476d1ce4e5b9U;
  z = (z ^ (z >> 27U)) * 0x94d049bb133111ebU;
  return z ^ (z >> 31U);
}

double Dice::unit() noexcept {
  return static_cast<double>(bits() >> 11U) * 0x1.0p-53;
}

int Dice::whole(int low, int high) noexcept {
  return low + static_cast<int>(bits() % static_cast<std::uint64_t>(high - low + 1));
}

void add_polygon(Face& face, int colour, std::vector<Point> outline) {
  face.shapes.push_back({static_cast<std::uint8_t>(colour), std::move(outline), {}});
}

void add_houndstooth(Face& face, int colour, Point at, double side) {
  const double x = at.x;
  const double y = at.y;
  const double s = side / 4.0;
  add_polygon(face, colour, rectangle(x, y, x + 2 * s, y + 2 * s));
  add_polygon(face, colour, {{x + 2 * s, y}, {x + 3 * s, y}, {x + 2 * s, y + s}});
  add_polygon(face, colour,
              {{x + 4 * s, y}, {x + 4 * s, y + s}, {x + 3 * s, y + 2 * s}, {x + 2 * s, y + 2 * s}});
  add_polygon(face, colour, {{x, y + 2 * s}, {x + s, y + 2 * s}, {x, y + 3 * s}});
  add_polygon(face, colour,
              {{x, y + 4 * s}, {x + s, y + 4 * s}, {x + 2 * s, y + 3 * s}, {x + 2 * s, y + 2 * s}});
}

void add_overlay(Face& face, std::vector<std::uint8_t> overlaid, std::vector<Point> outline) {
  face.shapes.push_back({0, std::move(outline), std::move(overlaid)});
}

void add_ellipse(Face& face, int colour, Point centre, double along, double across, double turn_radians) {
  const int corners = corners_for(std::max(along, across), face.width);
  const double c = std::cos(turn_radians);
  const double s = std::sin(turn_radians);
  std::vector<Point> outline;
  for (int i = 0; i < corners; ++i) {
    const double x = along * std::cos(kTurn * i / corners);
    const double y = across * std::sin(kTurn * i / corners);
    outline.push_back({centre.x + c * x - s * y, centre.y + s * x + c * y});
  }
  add_polygon(face, colour, std::move(outline));
}

void add_circle(Face& face, int colour, Point centre, double radius) {
  add_ellipse(face, colour, centre, radius, radius, 0.0);
}

std::vector<Point> rectangle(double left, double top, double right, double bottom) {
  return {{left, top}, {right, top}, {right, bottom}, {left, bottom}};
}

std::vector<Point> turned(std::vector<Point> outline, Point about, double radians) {
  const double c = std::cos(radians);
  const double s = std::sin(radians);
  for (Point& p : outline) {
    const double x = p.x - about.x;
    const double y = p.y - about.y;
    p = {about.x + c * x - s * y, about.y + s * x + c * y};
  }
  return outline;
}

void add_bar(Face& face, int colour, Point centre, double length, double thickness, double turn_radians) {
  add_polygon(face, colour,
              turned(rectangle(centre.x - length / 2, centre.y - thickness / 2, centre.x + length / 2,
                               centre.y + thickness / 2),
                     centre, turn_radians));
}

void add_stroke(Face& face, int colour, const std::vector<Point>& line, double thickness) {
  for (std::size_t i = 0; i + 1 < line.size(); ++i) {
    const Point from = line[i];
    const Point to = line[i + 1];
    const double along = std::atan2(to.y - from.y, to.x - from.x);
    std::vector<Point> outline;
    constexpr int kRound = 12;
    for (int k = 0; k <= kRound; ++k) {
      outline.push_back(moved(to, thickness / 2, along - kTurn / 4 + kTurn / 2 * k / kRound));
    }
    for (int k = 0; k <= kRound; ++k) {
      outline.push_back(moved(from, thickness / 2, along + kTurn / 4 + kTurn / 2 * k / kRound));
    }
    add_polygon(face, colour, std::move(outline));
  }
}

void add_star(Face& face, int colour, Point centre, double outer, double inner, int points,
              double turn_radians) {
  std::vector<Point> outline;
  for (int i = 0; i < 2 * points; ++i) {
    outline.push_back(moved(centre, i % 2 == 0 ? outer : inner, turn_radians + kTurn * i / (2 * points)));
  }
  add_polygon(face, colour, std::move(outline));
}

void add_flower(Face& face, int colour, Point centre, double radius, int petals, double turn_radians) {
  for (int i = 0; i < petals; ++i) {
    const double angle = turn_radians + kTurn * i / petals;
    add_ellipse(face, colour, moved(centre, radius * 0.55, angle), radius * 0.45,
                radius * std::min(0.42, 1.6 / petals), angle);
  }
}

void add_leaf(Face& face, int colour, Point stem, double length, double breadth, double turn_radians) {
  constexpr int kSteps = 24;
  std::vector<Point> outline;
  for (int side = 0; side < 2; ++side) {
    for (int i = 0; i < kSteps; ++i) {
      const double t = side == 0 ? static_cast<double>(i) / kSteps : 1.0 - static_cast<double>(i) / kSteps;
      const double half = breadth / 2 * std::sin(std::numbers::pi * std::pow(t, 0.8));
      const Point spine = moved(stem, t * length, turn_radians);
      outline.push_back(moved(spine, side == 0 ? half : -half, turn_radians + kTurn / 4));
    }
  }
  add_polygon(face, colour, std::move(outline));
}

Lab half_tone(const Lab& x, const Lab& y, double part_of_y) {
  const Xyz a = xyz_from_lab(x);
  const Xyz b = xyz_from_lab(y);
  const double p = part_of_y;
  return lab_from_xyz({a.X + p * (b.X - a.X), a.Y + p * (b.Y - a.Y), a.Z + p * (b.Z - a.Z)});
}

}  // namespace kithue::paper
