// SPDX-License-Identifier: MIT
#include <algorithm>
#include <cmath>

#include "extract/sheet.h"

namespace kithue {
namespace {

constexpr int kBlocks = 12;      // along the shorter side
constexpr int kLeastBlock = 32;  // pixels

double length(const Spot& p, const Spot& q) {
  return std::hypot(q.x - p.x, q.y - p.y);
}

Spot between(const Spot& p, const Spot& q, double part) {
  return {p.x + part * (q.x - p.x), p.y + part * (q.y - p.y)};
}

int even_inside(double start, int size, int whole) {
  const int last = std::max(0, whole - size);
  return std::clamp(static_cast<int>(std::lround(0.5 * start)) * 2, 0, last & ~1);
}

}  // namespace

SheetRows::SheetRows(const LightRows& whole, const Sheet& sheet) : whole_(whole) {
  const auto& c = sheet.corners;
  const double across = std::min(length(c[0], c[1]), length(c[3], c[2]));
  const double down = std::min(length(c[0], c[3]), length(c[1], c[2]));
  const double turn = std::abs(std::atan2(c[1].y - c[0].y, c[1].x - c[0].x));
  const double skew = std::abs(std::atan2(c[0].x - c[3].x, c[3].y - c[0].y));
  const double steepest = std::max({turn, skew, std::abs(std::atan2(c[1].x - c[2].x, c[2].y - c[1].y)),
                                    std::abs(std::atan2(c[2].y - c[3].y, c[2].x - c[3].x))});
  // Hardly turned: one block, for what its corners lose is less than what breaks would spoil.
  const bool single = steepest * std::max(across, down) < 0.012 * std::min(across, down);
  const double lean = std::cos(steepest) + std::sin(steepest);
  const auto plan = [&](double size, int& blocks, int& block) {
    block = single ? static_cast<int>(size / lean)
                   : std::max(kLeastBlock, static_cast<int>(std::min(across, down) / kBlocks));
    block = std::max(2, block & ~1);
    blocks = single ? 1 : std::max(1, static_cast<int>((size - block * lean) / block) + 1);
  };
  plan(across, columns_, block_width_);
  plan(down, rows_, block_height_);
  const auto part = [&](int i, int blocks, int block, double size) {
    const double edge = 0.5 * block * lean / size;
    return blocks == 1 ? 0.5 : edge + (1.0 - 2.0 * edge) * i / (blocks - 1);
  };
  for (int row = 0; row < rows_; ++row) {
    const double v = part(row, rows_, block_height_, down);
    for (int column = 0; column < columns_; ++column) {
      const double u = part(column, columns_, block_width_, across);
      const Spot centre = between(between(c[0], c[1], u), between(c[3], c[2], u), v);
      blocks_.push_back({even_inside(centre.x - 0.5 * block_width_, block_width_, whole.width()),
                         even_inside(centre.y - 0.5 * block_height_, block_height_, whole.height())});
    }
  }
}

void SheetRows::read(int x, int y, int count, float* light) const {
  const int row = y / block_height_;
  const int down = y % block_height_;
  while (count > 0) {
    const int column = x / block_width_;
    const int along = x % block_width_;
    const int here = std::min(count, block_width_ - along);
    const Corner& from = block(column, row);
    whole_.read(from.x + along, from.y + down, here, light);
    light += 3 * static_cast<std::ptrdiff_t>(here);
    x += here;
    count -= here;
  }
}

void SheetRows::read_halved(int x, int y, int count, float* r, float* g, float* b) const {
  if (((x | y) & 1) != 0) {  // squares that lie across two blocks
    LightRows::read_halved(x, y, count, r, g, b);
    return;
  }
  const int row = y / block_height_;
  const int down = y % block_height_;
  while (count > 0) {
    const int column = x / block_width_;
    const int along = x % block_width_;
    const int here = std::min(count, (block_width_ - along) / 2);
    const Corner& from = block(column, row);
    whole_.read_halved(from.x + along, from.y + down, here, r, g, b);
    r += here;
    g += here;
    b += here;
    x += 2 * here;
    count -= here;
  }
}

}  // namespace kithue
