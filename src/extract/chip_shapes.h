// SPDX-License-Identifier: MIT
#pragma once

#include <cstddef>
#include <vector>

namespace kithue::extract {

/// Which pixels of a small picture belong to something.
struct Mask {
  int width = 0;
  int height = 0;
  std::vector<char> on;  ///< 0 or 1, rows from the top
  Mask(int w, int h) : width(w), height(h), on(static_cast<std::size_t>(w) * static_cast<std::size_t>(h)) {}
  [[nodiscard]] std::size_t index(int x, int y) const {
    return static_cast<std::size_t>(y) * static_cast<std::size_t>(width) + static_cast<std::size_t>(x);
  }
  /// False outside.
  [[nodiscard]] bool has(int x, int y) const {
    return x >= 0 && y >= 0 && x < width && y < height && on[index(x, y)] != 0;
  }
};

/// The pieces that hang together by their sides, each as indices into the mask, in order of their first
/// pixel.
std::vector<std::vector<std::size_t>> pieces_of(const Mask& mask);

/// Without pixels that have a neighbour outside the mask, then with their neighbours again: threads, letters
/// and dust go.
Mask opened(const Mask& mask);

/// What a piece looks like.
struct Shape {
  double area = 0.0;
  double hull = 0.0;    ///< area of the convex hull
  double length = 0.0;  ///< sides of the smallest rectangle around it, turned any way
  double breadth = 0.0;
  double holes = 0.0;  ///< area of the holes inside, not part of `area`
  /// The largest upright rectangle inside, a pixel away from the rim; holes count as inside.
  int x = 0;
  int y = 0;
  int width = 0;
  int height = 0;
  double centre_x = 0.0;
  double centre_y = 0.0;
};

/// REQUIRES: piece is not empty and comes from a mask of that width.
Shape shape_of(const std::vector<std::size_t>& piece, int width);

}  // namespace kithue::extract
