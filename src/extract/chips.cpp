// SPDX-License-Identifier: MIT
#include "extract/chips.h"

#include <algorithm>
#include <cmath>
#include <vector>

namespace kithue {
namespace {

constexpr double kMostPixels = 250'000;
constexpr double kFull = 0.995;  // of the most that a channel can hold

double middle(std::vector<double> values) {
  const auto half = values.begin() + static_cast<std::ptrdiff_t>(values.size() / 2);
  std::nth_element(values.begin(), half, values.end());
  return *half;
}

struct Pixel {
  std::array<double, 3> light{};
  double sum = 0.0;
  double u = 0.0;  ///< -1 to 1 across
  double v = 0.0;  ///< -1 to 1 down
};

/// Every pixel of a small box; of a large one evenly spread pixels, kMostPixels at the most.
std::vector<Pixel> pixels_in(const LightRows& picture, const ChipBox& box) {
  const double area = static_cast<double>(box.width) * box.height;
  const int step = std::max(1, static_cast<int>(std::ceil(std::sqrt(area / kMostPixels))));
  std::vector<Pixel> pixels;
  std::vector<float> row(static_cast<std::size_t>(box.width) * 3);
  for (int j = 0; j < box.height; j += step) {
    picture.read(box.x, box.y + j, box.width, row.data());
    for (int i = 0; i < box.width; i += step) {
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
  std::size_t clipped = 0;
  for (const Pixel& pixel : pixels) {
    mean += pixel.sum / n;
    along_u += pixel.sum * pixel.u;
    along_v += pixel.sum * pixel.v;
    uu += pixel.u * pixel.u;
    vv += pixel.v * pixel.v;
    if (pixel.sum > 1.4 * centre) ++bright;
    if (std::max({pixel.light[0], pixel.light[1], pixel.light[2]}) >= kFull) ++clipped;
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
  chip.clipped = static_cast<double>(clipped) / n;
  std::sort(pixels.begin(), pixels.end(), [](const Pixel& p, const Pixel& q) { return p.sum < q.sum; });
  const std::size_t cut = pixels.size() / 10;
  for (std::size_t i = cut; i + cut < pixels.size(); ++i) {
    for (std::size_t c = 0; c < 3; ++c)
      chip.light[c] += pixels[i].light[c] / static_cast<double>(pixels.size() - 2 * cut);
  }
  return chip;
}

}  // namespace kithue
