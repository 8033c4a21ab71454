// SPDX-License-Identifier: MIT
#include "extract/chip_shapes.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <utility>

namespace kithue::extract {
namespace {

struct Corner {
  double x = 0.0;
  double y = 0.0;
};

double cross(const Corner& o, const Corner& p, const Corner& q) {
  return (p.x - o.x) * (q.y - o.y) - (p.y - o.y) * (q.x - o.x);
}

/// Andrew's monotone chain. REQUIRES: three corners or more.
std::vector<Corner> hull_of(std::vector<Corner> corners) {
  std::sort(corners.begin(), corners.end(),
            [](const Corner& p, const Corner& q) { return p.x != q.x ? p.x < q.x : p.y < q.y; });
  std::vector<Corner> hull;
  const auto chain = [&hull](const Corner& next, std::size_t floor) {
    while (hull.size() >= floor + 2 && cross(hull[hull.size() - 2], hull.back(), next) <= 0.0)
      hull.pop_back();
    hull.push_back(next);
  };
  for (const Corner& corner : corners) chain(corner, 0);
  const std::size_t half = hull.size() - 1;
  for (std::size_t i = corners.size() - 1; i-- > 0;) chain(corners[i], half);
  hull.pop_back();
  return hull;
}

void measure_hull(const std::vector<Corner>& hull, Shape& shape) {
  for (std::size_t i = 0; i < hull.size(); ++i) {
    const Corner& p = hull[i];
    const Corner& q = hull[(i + 1) % hull.size()];
    shape.hull += 0.5 * (p.x * q.y - q.x * p.y);
  }
  double least = -1.0;
  for (std::size_t i = 0; i < hull.size(); ++i) {
    const Corner& p = hull[i];
    const Corner& q = hull[(i + 1) % hull.size()];
    const double side = std::hypot(q.x - p.x, q.y - p.y);
    if (side == 0.0) continue;
    const Corner along{(q.x - p.x) / side, (q.y - p.y) / side};
    std::array<double, 4> ends{1e9, -1e9, 1e9, -1e9};
    for (const Corner& corner : hull) {
      const double s = along.x * corner.x + along.y * corner.y;
      const double t = along.x * corner.y - along.y * corner.x;
      ends = {std::min(ends[0], s), std::max(ends[1], s), std::min(ends[2], t), std::max(ends[3], t)};
    }
    const double length = ends[1] - ends[0];
    const double breadth = ends[3] - ends[2];
    if (least >= 0.0 && length * breadth >= least) continue;
    least = length * breadth;
    shape.length = std::max(length, breadth);
    shape.breadth = std::min(length, breadth);
  }
}

/// The piece in a window of its own with a free pixel all around.
struct Window {
  int left = 0;
  int top = 0;
  Mask mask;
};

Window window_of(const std::vector<std::size_t>& piece, int width) {
  int left = width;
  int right = 0;
  int top = static_cast<int>(piece.front() / static_cast<std::size_t>(width));
  int bottom = top;
  for (const std::size_t at : piece) {
    const int x = static_cast<int>(at % static_cast<std::size_t>(width));
    const int y = static_cast<int>(at / static_cast<std::size_t>(width));
    left = std::min(left, x);
    right = std::max(right, x);
    top = std::min(top, y);
    bottom = std::max(bottom, y);
  }
  Window window{left - 1, top - 1, Mask(right - left + 3, bottom - top + 3)};
  for (const std::size_t at : piece) {
    const int x = static_cast<int>(at % static_cast<std::size_t>(width));
    const int y = static_cast<int>(at / static_cast<std::size_t>(width));
    window.mask.on[window.mask.index(x - window.left, y - window.top)] = 1;
  }
  return window;
}

/// Fills what cannot be reached from outside, and returns how much that was.
double fill_holes(Mask& mask) {
  std::vector<char> outside(mask.on.size());
  std::vector<std::pair<int, int>> open{{0, 0}};
  outside[0] = 1;
  while (!open.empty()) {
    const auto [x, y] = open.back();
    open.pop_back();
    for (const auto& [i, j] : {std::pair{x - 1, y}, {x + 1, y}, {x, y - 1}, {x, y + 1}}) {
      if (i < 0 || j < 0 || i >= mask.width || j >= mask.height || mask.has(i, j)) continue;
      char& seen = outside[mask.index(i, j)];
      if (seen == 0) open.emplace_back(i, j);
      seen = 1;
    }
  }
  double filled = 0.0;
  for (std::size_t i = 0; i < mask.on.size(); ++i) {
    if (mask.on[i] != 0 || outside[i] != 0) continue;
    mask.on[i] = 1;
    filled += 1.0;
  }
  return filled;
}

Mask eroded(const Mask& mask) {
  Mask out(mask.width, mask.height);
  for (int y = 0; y < mask.height; ++y) {
    for (int x = 0; x < mask.width; ++x) {
      const bool inside = mask.has(x, y) && mask.has(x - 1, y) && mask.has(x + 1, y) && mask.has(x, y - 1) &&
                          mask.has(x, y + 1);
      out.on[out.index(x, y)] = inside ? 1 : 0;
    }
  }
  return out;
}

/// The largest rectangle of ones: over each row, columns that reach up, by a stack of rising heights.
void largest_rectangle(const Mask& mask, Shape& shape) {
  std::vector<int> reach(static_cast<std::size_t>(mask.width) + 1, 0);
  int best = 0;
  for (int y = 0; y < mask.height; ++y) {
    std::vector<std::pair<int, int>> rising;  // where a height begins, and the height
    for (int x = 0; x <= mask.width; ++x) {
      int& here = reach[static_cast<std::size_t>(x)];
      here = x < mask.width && mask.has(x, y) ? here + 1 : 0;
      int from = x;
      while (!rising.empty() && rising.back().second >= here) {
        from = rising.back().first;
        const int high = rising.back().second;
        if (high * (x - from) > best) {
          best = high * (x - from);
          shape.x = from;
          shape.y = y - high + 1;
          shape.width = x - from;
          shape.height = high;
        }
        rising.pop_back();
      }
      rising.emplace_back(from, here);
    }
  }
}

}  // namespace

std::vector<std::vector<std::size_t>> pieces_of(const Mask& mask) {
  std::vector<std::vector<std::size_t>> pieces;
  std::vector<char> taken(mask.on.size());
  for (std::size_t start = 0; start < mask.on.size(); ++start) {
    if (mask.on[start] == 0 || taken[start] != 0) continue;
    std::vector<std::size_t> piece{start};
    taken[start] = 1;
    for (std::size_t next = 0; next < piece.size(); ++next) {
      const int x = static_cast<int>(piece[next] % static_cast<std::size_t>(mask.width));
      const int y = static_cast<int>(piece[next] / static_cast<std::size_t>(mask.width));
      for (const auto& [i, j] : {std::pair{x - 1, y}, {x + 1, y}, {x, y - 1}, {x, y + 1}}) {
        if (!mask.has(i, j) || taken[mask.index(i, j)] != 0) continue;
        taken[mask.index(i, j)] = 1;
        piece.push_back(mask.index(i, j));
      }
    }
    pieces.push_back(std::move(piece));
  }
  return pieces;
}

Mask opened(const Mask& mask) {
  const Mask core = eroded(mask);
  Mask out(mask.width, mask.height);
  for (int y = 0; y < mask.height; ++y) {
    for (int x = 0; x < mask.width; ++x) {
      const bool beside = core.has(x, y) || core.has(x - 1, y) || core.has(x + 1, y) || core.has(x, y - 1) ||
                          core.has(x, y + 1);
      out.on[out.index(x, y)] = beside ? 1 : 0;
    }
  }
  return out;
}

Shape shape_of(const std::vector<std::size_t>& piece, int width) {
  Shape shape;
  shape.area = static_cast<double>(piece.size());
  Window window = window_of(piece, width);
  std::vector<Corner> corners;
  for (int y = 0; y < window.mask.height; ++y) {
    int first = window.mask.width;
    int last = -1;
    for (int x = 0; x < window.mask.width; ++x) {
      if (!window.mask.has(x, y)) continue;
      first = std::min(first, x);
      last = x;
      shape.centre_x += (x + 0.5 + window.left) / shape.area;
      shape.centre_y += (y + 0.5 + window.top) / shape.area;
    }
    if (last < 0) continue;
    for (const int down : {0, 1}) {
      corners.push_back({static_cast<double>(first), static_cast<double>(y + down)});
      corners.push_back({static_cast<double>(last + 1), static_cast<double>(y + down)});
    }
  }
  measure_hull(hull_of(std::move(corners)), shape);
  shape.holes = fill_holes(window.mask);
  largest_rectangle(eroded(window.mask), shape);
  shape.x += window.left;
  shape.y += window.top;
  return shape;
}

}  // namespace kithue::extract
