// SPDX-License-Identifier: MIT
#include "extract/chips.h"

#include <algorithm>
#include <cmath>

#include "colour/lab.h"

namespace kithue {
namespace {

constexpr double kEdgeDistance = 6.0;  // CIELAB units from the background that make a pixel part of a chip

struct Small {
  int width = 0;
  int height = 0;
  int step = 1;
  std::vector<Lab> lab;
  [[nodiscard]] const Lab& at(int x, int y) const {
    return lab[static_cast<std::size_t>(y) * static_cast<std::size_t>(width) + static_cast<std::size_t>(x)];
  }
};

/// The picture averaged in light over squares of `step` pixels.
Small shrunk(const LightRows& picture) {
  Small small;
  small.step = std::max(1, std::max(picture.width(), picture.height()) / 500);
  small.width = picture.width() / small.step;
  small.height = picture.height() / small.step;
  const auto step = static_cast<std::size_t>(small.step);
  std::vector<float> row(static_cast<std::size_t>(small.width) * step * 3);
  for (int y = 0; y < small.height; ++y) {
    std::vector<std::array<double, 3>> sums(static_cast<std::size_t>(small.width));
    for (int j = 0; j < small.step; ++j) {
      picture.read(0, y * small.step + j, small.width * small.step, row.data());
      for (std::size_t i = 0; i < row.size(); ++i) sums[i / 3 / step][i % 3] += static_cast<double>(row[i]);
    }
    for (auto& sum : sums) {
      for (double& light : sum) light /= static_cast<double>(step * step);
      const auto xyz = times(picture.to_xyz(), sum);
      small.lab.push_back(lab_from_xyz({xyz[0], xyz[1], xyz[2]}));
    }
  }
  return small;
}

double middle(std::vector<double> values) {
  const auto half = values.begin() + static_cast<std::ptrdiff_t>(values.size() / 2);
  std::nth_element(values.begin(), half, values.end());
  return *half;
}

Lab background_of(const Small& small) {
  std::vector<double> L;
  std::vector<double> a;
  std::vector<double> b;
  for (int y = 0; y < small.height; ++y) {
    for (int x = 0; x < small.width; ++x) {
      if (x > 1 && y > 1 && x + 2 < small.width && y + 2 < small.height) continue;
      L.push_back(small.at(x, y).L);
      a.push_back(small.at(x, y).a);
      b.push_back(small.at(x, y).b);
    }
  }
  return {middle(std::move(L)), middle(std::move(a)), middle(std::move(b))};
}

/// One connected piece: its box in small pixels and how many of them it has.
struct Piece {
  int left, top, right, bottom;
  int pixels = 0;
};

Piece grown_from(int x, int y, const Small& small, std::vector<char>& is_chip) {
  Piece piece{x, y, x, y, 0};
  std::vector<std::pair<int, int>> open{{x, y}};
  const auto take = [&](int i, int j) {
    if (i < 0 || j < 0 || i >= small.width || j >= small.height) return;
    char& cell = is_chip[static_cast<std::size_t>(j) * static_cast<std::size_t>(small.width) +
                         static_cast<std::size_t>(i)];
    if (cell == 0) return;
    cell = 0;
    open.emplace_back(i, j);
  };
  take(x, y);
  open.erase(open.begin());
  while (!open.empty()) {
    const auto [i, j] = open.back();
    open.pop_back();
    ++piece.pixels;
    piece.left = std::min(piece.left, i);
    piece.right = std::max(piece.right, i);
    piece.top = std::min(piece.top, j);
    piece.bottom = std::max(piece.bottom, j);
    take(i - 1, j);
    take(i + 1, j);
    take(i, j - 1);
    take(i, j + 1);
  }
  return piece;
}

/// Rows from the top, and from the left within a row.
void sort_for_reading(std::vector<ChipBox>& boxes) {
  std::sort(boxes.begin(), boxes.end(), [](const ChipBox& p, const ChipBox& q) { return p.y < q.y; });
  for (auto first = boxes.begin(); first != boxes.end();) {
    auto last = first;
    const int below = first->y + first->height / 2;
    while (last != boxes.end() && last->y < below) ++last;
    std::sort(first, last, [](const ChipBox& p, const ChipBox& q) { return p.x < q.x; });
    first = last;
  }
}

struct Pixel {
  std::array<double, 3> light{};
  double sum = 0.0;
  double u = 0.0;  ///< -1 to 1 across
  double v = 0.0;  ///< -1 to 1 down
};

std::vector<Pixel> pixels_in(const LightRows& picture, const ChipBox& box) {
  std::vector<Pixel> pixels;
  std::vector<float> row(static_cast<std::size_t>(box.width) * 3);
  for (int j = 0; j < box.height; ++j) {
    picture.read(box.x, box.y + j, box.width, row.data());
    for (int i = 0; i < box.width; ++i) {
      Pixel pixel;
      for (std::size_t c = 0; c < 3; ++c) {
        pixel.light[c] = static_cast<double>(row[static_cast<std::size_t>(i) * 3 + c]);
        pixel.sum += pixel.light[c];
      }
      pixel.u = box.width > 1 ? 2.0 * i / (box.width - 1) - 1.0 : 0.0;
      pixel.v = box.height > 1 ? 2.0 * j / (box.height - 1) - 1.0 : 0.0;
      pixels.push_back(pixel);
    }
  }
  return pixels;
}

}  // namespace

std::vector<ChipBox> grid_boxes(const ChipBox& window, int columns, int rows) {
  std::vector<ChipBox> boxes;
  for (int r = 0; r < rows; ++r) {
    const int top = window.y + window.height * r / rows;
    const int bottom = window.y + window.height * (r + 1) / rows;
    for (int c = 0; c < columns; ++c) {
      const int left = window.x + window.width * c / columns;
      boxes.push_back({left, top, window.x + window.width * (c + 1) / columns - left, bottom - top});
    }
  }
  return boxes;
}

std::vector<ChipBox> find_chips(const LightRows& picture) {
  const Small small = shrunk(picture);
  const Lab ground = background_of(small);
  std::vector<char> is_chip;
  for (const Lab& lab : small.lab)
    is_chip.push_back(std::hypot(lab.L - ground.L, lab.a - ground.a, lab.b - ground.b) > kEdgeDistance);
  const double least = std::max(3.0, 0.015 * std::min(small.width, small.height));
  std::vector<ChipBox> boxes;
  for (int y = 0; y < small.height; ++y) {
    for (int x = 0; x < small.width; ++x) {
      if (is_chip[static_cast<std::size_t>(y) * static_cast<std::size_t>(small.width) +
                  static_cast<std::size_t>(x)] == 0)
        continue;
      const Piece piece = grown_from(x, y, small, is_chip);
      const int width = piece.right - piece.left + 1;
      const int height = piece.bottom - piece.top + 1;
      const bool at_edge = piece.left == 0 || piece.top == 0 || piece.right + 1 == small.width ||
                           piece.bottom + 1 == small.height;
      if (at_edge || width < least || height < least || 2 * piece.pixels < width * height) continue;
      // The square inside a circle is 0.7 of its box; a little less for soft edges.
      const int x_edge = static_cast<int>(0.17 * width * small.step);
      const int y_edge = static_cast<int>(0.17 * height * small.step);
      boxes.push_back({piece.left * small.step + x_edge, piece.top * small.step + y_edge,
                       std::max(1, width * small.step - 2 * x_edge),
                       std::max(1, height * small.step - 2 * y_edge)});
    }
  }
  sort_for_reading(boxes);
  return boxes;
}

ChipLight chip_light(const LightRows& picture, const ChipBox& box) {
  const int x_edge = box.width / 5;
  const int y_edge = box.height / 5;
  std::vector<Pixel> pixels =
      pixels_in(picture, {box.x + x_edge, box.y + y_edge, box.width - 2 * x_edge, box.height - 2 * y_edge});
  std::vector<double> sums;
  for (const Pixel& pixel : pixels) sums.push_back(pixel.sum);
  const double centre = middle(sums);
  const auto n = static_cast<double>(pixels.size());
  double mean = 0.0;
  double along_u = 0.0;
  double along_v = 0.0;
  double uu = 1e-12;
  double vv = 1e-12;
  std::size_t bright = 0;
  for (const Pixel& pixel : pixels) {
    mean += pixel.sum / n;
    along_u += pixel.sum * pixel.u;
    along_v += pixel.sum * pixel.v;
    uu += pixel.u * pixel.u;
    vv += pixel.v * pixel.v;
    if (pixel.sum > 1.4 * centre) ++bright;
  }
  ChipLight chip;
  if (!(mean > 0.0)) return chip;
  const double du = along_u / uu;
  const double dv = along_v / vv;
  double left_over = 0.0;
  for (const Pixel& pixel : pixels) {
    const double rest = pixel.sum - mean - du * pixel.u - dv * pixel.v;
    left_over += rest * rest / n;
  }
  chip.texture = std::sqrt(left_over) / mean;
  // Over the whole box, of which the middle three fifths were read.
  chip.gradient = 2.0 * std::hypot(du, dv) / mean / 0.6;
  chip.glare = static_cast<double>(bright) / n;
  std::sort(pixels.begin(), pixels.end(), [](const Pixel& p, const Pixel& q) { return p.sum < q.sum; });
  const std::size_t cut = pixels.size() / 10;
  for (std::size_t i = cut; i + cut < pixels.size(); ++i) {
    for (std::size_t c = 0; c < 3; ++c)
      chip.light[c] += pixels[i].light[c] / static_cast<double>(pixels.size() - 2 * cut);
  }
  return chip;
}

}  // namespace kithue
