// SPDX-License-Identifier: MIT
#include "cli/measure_regions.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <optional>
#include <utility>

#include "base/files.h"
#include "base/text.h"
#include "cli/extract.h"
#include "swatch/edit.h"

namespace kithue {

Error bad_option(std::string what, std::string where, std::string advice) {
  return {ErrorKind::bad_usage, std::move(what), std::move(where), std::move(advice)};
}

namespace {

constexpr std::size_t kMostBoxFile = std::size_t{1} << 20;
constexpr double kLeastCell = 5.0;  // pixels

struct Point {
  double x = 0.0;
  double y = 0.0;
};
/// Upper left, upper right, lower right, lower left of a grid that may lie askew.
using Quad = std::array<Point, 4>;

/// Takes the unit square to a quad. Source: Heckbert, "Fundamentals of Texture Mapping and Image Warping",
/// 1989, 2.2.3.
class Perspective {
 public:
  explicit Perspective(const Quad& q) : origin_(q[0]) {
    const Point d1{q[1].x - q[2].x, q[1].y - q[2].y};
    const Point d2{q[3].x - q[2].x, q[3].y - q[2].y};
    const Point sum{q[0].x - q[1].x + q[2].x - q[3].x, q[0].y - q[1].y + q[2].y - q[3].y};
    const double det = d1.x * d2.y - d2.x * d1.y;
    g_ = (sum.x * d2.y - d2.x * sum.y) / det;
    h_ = (d1.x * sum.y - sum.x * d1.y) / det;
    across_ = {q[1].x - q[0].x + g_ * q[1].x, q[1].y - q[0].y + g_ * q[1].y};
    down_ = {q[3].x - q[0].x + h_ * q[3].x, q[3].y - q[0].y + h_ * q[3].y};
  }
  [[nodiscard]] Point at(double u, double v) const {
    const double w = g_ * u + h_ * v + 1.0;
    return {(across_.x * u + down_.x * v + origin_.x) / w, (across_.y * u + down_.y * v + origin_.y) / w};
  }

 private:
  Point origin_;
  Point across_;
  Point down_;
  double g_ = 0.0;
  double h_ = 0.0;
};

double turn(const Point& o, const Point& p, const Point& q) {
  return (p.x - o.x) * (q.y - o.y) - (p.y - o.y) * (q.x - o.x);
}

/// All corners turn the same way; a grid seen in a mirror turns the other way.
bool is_convex(const Quad& q) {
  int left = 0;
  for (std::size_t i = 0; i < 4; ++i) left += turn(q[i], q[(i + 1) % 4], q[(i + 2) % 4]) > 0.0 ? 1 : 0;
  return left == 0 || left == 4;
}

bool inside(const Quad& q, const Point& p) {
  int left = 0;
  for (std::size_t i = 0; i < 4; ++i) left += turn(q[i], q[(i + 1) % 4], p) >= 0.0 ? 1 : 0;
  return left == 0 || left == 4;
}

/// The largest upright box around the middle of a cell that stays in it.
ChipBox box_in(const Quad& cell) {
  Point middle;
  double half_width = 0.0;
  double half_height = 0.0;
  for (const Point& corner : cell) {
    middle.x += corner.x / 4;
    middle.y += corner.y / 4;
  }
  for (const Point& corner : cell) {
    half_width = std::max(half_width, std::fabs(corner.x - middle.x));
    half_height = std::max(half_height, std::fabs(corner.y - middle.y));
  }
  double part = 1.0;
  const auto fits = [&] {
    for (const double i : {-part, part}) {
      for (const double j : {-part, part}) {
        if (!inside(cell, {middle.x + i * half_width, middle.y + j * half_height})) return false;
      }
    }
    return true;
  };
  while (part > 0.1 && !fits()) part -= 0.02;
  const int left = static_cast<int>(std::ceil(middle.x - part * half_width));
  const int top = static_cast<int>(std::ceil(middle.y - part * half_height));
  return {left, top, std::max(1, static_cast<int>(std::floor(middle.x + part * half_width)) - left),
          std::max(1, static_cast<int>(std::floor(middle.y + part * half_height)) - top)};
}

Result<Quad> corners_of(const std::vector<std::string_view>& words, int width, int height,
                        const std::string& option) {
  Quad quad;
  for (std::size_t i = 0; i < 8; ++i) {
    const int whole = i % 2 == 0 ? width : height;
    const auto pixels = crop_length_in_pixels(words[i], whole);
    if (!pixels)
      return bad_option("not a corner: " + std::string(words[i]), option,
                        "write x,y four times, in pixels or per cent");
    if (*pixels > whole) {
      return Error{ErrorKind::bad_input,
                   "a corner lies outside the picture of " + std::to_string(width) + " x " +
                       std::to_string(height) + " pixels",
                   option, "give x and y of all four corners inside the picture"};
    }
    (i % 2 == 0 ? quad[i / 2].x : quad[i / 2].y) = *pixels;
  }
  if (!is_convex(quad)) {
    return bad_option("the four corners cross over", option,
                      "go around the grid: its upper left, upper right, lower right, lower left");
  }
  return quad;
}

Result<Quad> quad_of(const std::string& within, int width, int height, const std::string& option) {
  const double w = width;
  const double h = height;
  if (within.empty()) return Quad{{{0, 0}, {w, 0}, {w, h}, {0, h}}};
  const auto words = split(within, ',');
  if (words.size() == 8) return corners_of({words.begin(), words.end()}, width, height, option);
  const auto crop = crop_from_text(within);
  const auto pixels = crop ? crop_in_pixels(*crop, width, height) : Result<CropPixels>(crop.error());
  if (!pixels) {
    Error error = pixels.error();
    error.where = option;
    if (!crop) error.advice = "write x,y,width,height, or x,y of the four corners, in pixels or per cent";
    return error;
  }
  const double left = pixels->x;
  const double top = pixels->y;
  const double right = left + pixels->width;
  const double bottom = top + pixels->height;
  return Quad{{{left, top}, {right, top}, {right, bottom}, {left, bottom}}};
}

}  // namespace

Result<ChipBox> window_of(const std::string& within, int width, int height, const std::string& option) {
  const auto quad = quad_of(within, width, height, option);
  if (!quad) return quad.error();
  double left = width;
  double right = 0.0;
  double top = height;
  double bottom = 0.0;
  for (const Point& corner : *quad) {
    left = std::min(left, corner.x);
    right = std::max(right, corner.x);
    top = std::min(top, corner.y);
    bottom = std::max(bottom, corner.y);
  }
  const auto whole = [](double value) { return static_cast<int>(std::floor(value)); };
  return ChipBox{whole(left), whole(top), std::max(1, whole(right - left)), std::max(1, whole(bottom - top))};
}

Result<std::vector<ChipBox>> boxes_of_grid(const std::string& grid, const std::string& within, int width,
                                           int height, const std::string& option) {
  const auto cross = grid.find('x');
  const auto columns = parse_whole(grid.substr(0, cross));
  const auto rows = cross == std::string::npos ? std::nullopt : parse_whole(grid.substr(cross + 1));
  constexpr int kMost = 100;
  if (!columns || !rows || *columns < 1 || *rows < 1)
    return bad_option("not a grid: " + grid, option, "columns x rows, as in 4x6");
  if (*columns > kMost || *rows > kMost)
    return bad_option("more than " + std::to_string(kMost) + " columns or rows: " + grid, option,
                      "take a part at a time");
  const auto quad = quad_of(within, width, height, option + " with its window");
  if (!quad) return quad.error();
  const Perspective view(*quad);
  std::vector<ChipBox> boxes;
  for (int r = 0; r < *rows; ++r) {
    for (int c = 0; c < *columns; ++c) {
      const auto corner = [&](int i, int j) {
        return view.at(static_cast<double>(c + i) / static_cast<double>(*columns),
                       static_cast<double>(r + j) / static_cast<double>(*rows));
      };
      const ChipBox box = box_in({corner(0, 0), corner(1, 0), corner(1, 1), corner(0, 1)});
      if (box.width < kLeastCell || box.height < kLeastCell)
        return bad_option("the cells would be smaller than 5 pixels", option, "is the grid columns x rows?");
      boxes.push_back(box);
    }
  }
  return boxes;
}

Result<std::vector<NamedBox>> boxes_from_file(const std::string& path, int width, int height) {
  const auto text = read_file(path, kMostBoxFile);
  if (!text) return text.error();
  std::string_view lines = *text;
  if (lines.starts_with("\xef\xbb\xbf")) lines.remove_prefix(3);
  std::vector<NamedBox> boxes;
  std::size_t line_number = 0;
  for (const std::string_view line : split(lines, '\n')) {
    ++line_number;
    const std::string_view plain = trimmed(line);
    if (plain.empty() || plain.starts_with('#')) continue;
    const std::string where = path + ":" + std::to_string(line_number);
    // The four numbers are the last four parts: a name may have commas.
    std::size_t comma = plain.size();
    for (int i = 0; i < 4 && comma != std::string_view::npos; ++i)
      comma = comma == 0 ? std::string_view::npos : plain.rfind(',', comma - 1);
    const Error wrong{ErrorKind::bad_input, "not a box", where, "write name,x,y,width,height"};
    if (comma == std::string_view::npos || comma == 0) return wrong;
    const auto words = crop_from_text(std::string(plain.substr(comma + 1)));
    if (!words) return wrong;
    const auto name = valid_name(plain.substr(0, comma));
    if (!name) return Error{ErrorKind::bad_input, name.error().what, where, name.error().advice};
    const auto box = crop_in_pixels(*words, width, height);
    if (!box) return Error{ErrorKind::bad_input, box.error().what, where, box.error().advice};
    boxes.push_back({*name, {box->x, box->y, box->width, box->height}});
  }
  if (boxes.empty())
    return Error{ErrorKind::bad_input, "there is no box in it", path, "write lines name,x,y,width,height"};
  return boxes;
}

}  // namespace kithue
