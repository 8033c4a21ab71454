// SPDX-License-Identifier: MIT
#include "extract/find_chips.h"

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <optional>

#include "extract/chip_ground.h"
#include "extract/chip_shapes.h"

namespace kithue {
namespace {

using extract::Ground;
using extract::Mask;
using extract::plain_distance;
using extract::Shape;
using extract::shape_of;
using extract::SmallLab;

constexpr int kChipsSide = 900;
constexpr double kLeastPart = 0.015;  // of the shorter side
constexpr double kLeastApart = 2.0;   // CIELAB units from the background
constexpr double kNoises = 4.0;       // times its grain from the background
constexpr int kMostSmoothings = 2;
constexpr double kOneColour = 10.0;  // CIELAB units within a chip
constexpr int kMostColours = 64;     // tried in one piece that holds several
constexpr double kShadowCast = 4.0;  // CIELAB units that a* and b* of a shadow may stray
// What a background must be for its light to be believed, and how far it may fall off. Ours, no source.
constexpr double kLeastGround = 0.3;
constexpr double kLeastY = 0.12;
constexpr double kMostUneven = 0.8;
constexpr double kMostLight = 2.0;

/// What is looked at and the limits that follow from it.
struct Scene {
  SmallLab small;
  Ground ground;
  double least = 3.0;  ///< breadth of a chip in small pixels
  double apart = 2.0;  ///< from the background
  [[nodiscard]] Lab ground_at(std::size_t at) const {
    const auto width = static_cast<std::size_t>(small.width);
    return ground.at((static_cast<double>(at % width) + 0.5) / small.width,
                     (static_cast<double>(at / width) + 0.5) / small.height);
  }
};

bool at_edge(const std::vector<std::size_t>& piece, const SmallLab& small) {
  const auto width = static_cast<std::size_t>(small.width);
  const auto height = static_cast<std::size_t>(small.height);
  return std::any_of(piece.begin(), piece.end(), [&](std::size_t at) {
    return at % width == 0 || at % width + 1 == width || at / width == 0 || at / width + 1 == height;
  });
}

/// The background in less light: darker, and of its own hue.
bool is_shadow(const Lab& lab, const Lab& ground) {
  if (!(lab.L < ground.L)) return false;
  const double dimmed = (lab.L + 16.0) / (ground.L + 16.0);
  return std::hypot(lab.a - dimmed * ground.a, lab.b - dimmed * ground.b) < kShadowCast;
}

bool touches(const std::vector<std::size_t>& piece, const Mask& chips) {
  const auto width = static_cast<std::size_t>(chips.width);
  return std::any_of(piece.begin(), piece.end(), [&](std::size_t at) {
    const int x = static_cast<int>(at % width);
    const int y = static_cast<int>(at / width);
    for (int j = -3; j <= 3; ++j) {
      for (int i = -3; i <= 3; ++i) {
        if (chips.has(x + i, y + j)) return true;
      }
    }
    return false;
  });
}

/// Circles fill 0.79 of the square around them, rectangles all of it.
bool is_chip(const Shape& shape, const Scene& scene, bool first) {
  return shape.breadth >= scene.least && shape.width >= 2 && shape.height >= 2 &&
         shape.holes < 0.15 * shape.area &&
         shape.area + shape.holes > (first ? 0.55 : 0.7) * shape.length * shape.breadth &&
         shape.area + shape.holes > (first ? 0.8 : 0.88) * shape.hull;
}

/// Takes one colour after the other out of a piece that stands apart from the background.
void take_chips(const Scene& scene, std::vector<std::size_t> rest, std::vector<Shape>& chips) {
  Mask taken(scene.small.width, scene.small.height);
  for (int round = 0; round<kMostColours&& static_cast<double>(rest.size())> scene.least * scene.least / 2;
       ++round) {
    const Lab core = most_frequent(scene.small, rest);
    Mask members(scene.small.width, scene.small.height);
    std::vector<std::size_t> others;
    for (const std::size_t at : rest) {
      const double far = plain_distance(scene.small.lab[at], core);
      const bool mine = far < kOneColour && far < plain_distance(scene.small.lab[at], scene.ground_at(at));
      members.on[at] = mine ? 1 : 0;
      if (!mine) others.push_back(at);
    }
    if (others.size() == rest.size()) return;
    rest = std::move(others);
    for (const auto& piece : pieces_of(opened(members))) {
      if (static_cast<double>(piece.size()) < scene.least * scene.least / 2) continue;
      const Shape shape = shape_of(piece, scene.small.width);
      if (!is_chip(shape, scene, round == 0)) continue;
      if (is_shadow(core, scene.ground_at(piece[piece.size() / 2])) && touches(piece, taken)) continue;
      for (const std::size_t at : piece) taken.on[at] = 1;
      chips.push_back(shape);
    }
  }
}

std::vector<Shape> shapes_in(const Scene& scene) {
  Mask beyond(scene.small.width, scene.small.height);
  for (std::size_t at = 0; at < scene.small.lab.size(); ++at)
    beyond.on[at] = plain_distance(scene.small.lab[at], scene.ground_at(at)) > scene.apart ? 1 : 0;
  std::vector<Shape> chips;
  for (const auto& piece : pieces_of(opened(beyond))) {
    if (!at_edge(piece, scene.small)) take_chips(scene, piece, chips);
  }
  return chips;
}

/// By how much the rows are turned: the median direction from a chip to its nearest neighbour on the right.
double slope_of(const std::vector<Shape>& chips) {
  std::vector<double> slopes;
  for (const Shape& chip : chips) {
    double least = -1.0;
    double slope = 0.0;
    for (const Shape& other : chips) {
      const double dx = other.centre_x - chip.centre_x;
      const double dy = other.centre_y - chip.centre_y;
      if (dx <= 0.0 || std::fabs(dy) > 0.4 * dx || (least >= 0.0 && dx >= least)) continue;
      least = dx;
      slope = dy / dx;
    }
    if (least >= 0.0) slopes.push_back(slope);
  }
  if (slopes.empty()) return 0.0;
  std::sort(slopes.begin(), slopes.end());
  return slopes[slopes.size() / 2];
}

/// Rows from the top, and from the left within a row.
void sort_for_reading(std::vector<Shape>& chips) {
  const double slope = slope_of(chips);
  const auto down = [slope](const Shape& chip) { return chip.centre_y - slope * chip.centre_x; };
  std::sort(chips.begin(), chips.end(), [&](const Shape& p, const Shape& q) { return down(p) < down(q); });
  for (auto first = chips.begin(); first != chips.end();) {
    auto last = first + 1;
    while (last != chips.end() && down(*last) < down(*(last - 1)) + 0.5 * last->breadth) ++last;
    std::sort(first, last, [](const Shape& p, const Shape& q) { return p.centre_x < q.centre_x; });
    first = last;
  }
}

std::array<double, 3> light_of(const Lab& lab, const Matrix3& from_xyz) {
  const Xyz xyz = xyz_from_lab(lab);
  return times(from_xyz, {xyz.X, xyz.Y, xyz.Z});
}

/// Mean light and unevenness of the background over the frame, and whether it can tell how the light falls:
/// much of it, bright, and no more uneven than light is.
void settle_background(FoundChips& found) {
  constexpr int kSide = 9;
  double least = 1e9;
  double most = 0.0;
  double sum = 0.0;
  for (int j = 0; j < kSide; ++j) {
    for (int i = 0; i < kSide; ++i) {
      const Lab lab = found.ground.at((i + 0.5) / kSide, (j + 0.5) / kSide);
      const auto light = light_of(lab, found.from_xyz);
      for (std::size_t c = 0; c < 3; ++c) found.background[c] += light[c] / (kSide * kSide);
      const double Y = xyz_from_lab(lab).Y;
      least = std::min(least, Y);
      most = std::max(most, Y);
      sum += Y / (kSide * kSide);
    }
  }
  found.uneven = sum > 0.0 ? (most - least) / sum : 0.0;
  found.tells = found.ground.share >= kLeastGround && least >= kLeastY && found.uneven <= kMostUneven;
  if (!found.tells) found.uneven = 0.0;
}

}  // namespace

std::array<double, 3> FoundChips::light_at(double x, double y) const {
  std::array<double, 3> part{1.0, 1.0, 1.0};
  if (!tells) return part;
  const auto here = light_of(ground.at(x / width, y / height), from_xyz);
  for (std::size_t c = 0; c < 3; ++c) {
    if (background[c] > 0.0) part[c] = std::clamp(here[c] / background[c], 1.0 / kMostLight, kMostLight);
  }
  return part;
}

FoundChips find_chips(const LightRows& picture) {
  Scene scene;
  scene.small = extract::shrunk(picture, kChipsSide);
  auto ground = extract::fit_ground(scene.small);
  for (int i = 0; i < kMostSmoothings && ground && kNoises * ground->noise > kLeastApart; ++i) {
    extract::smooth(scene.small);
    ground = extract::fit_ground(scene.small);
  }
  FoundChips found;
  if (!ground) return found;
  scene.ground = *ground;
  scene.least = std::max(3.0, kLeastPart * std::min(scene.small.width, scene.small.height));
  scene.apart = std::max(kLeastApart, kNoises * scene.ground.noise);
  std::vector<Shape> shapes = shapes_in(scene);
  sort_for_reading(shapes);
  found.ground = scene.ground;
  found.width = picture.width();
  found.height = picture.height();
  found.from_xyz = inverse(picture.to_xyz());
  settle_background(found);
  const int step = scene.small.step;
  for (const Shape& shape : shapes)
    found.chips.push_back({shape.x * step, shape.y * step, shape.width * step, shape.height * step});
  return found;
}

}  // namespace kithue
