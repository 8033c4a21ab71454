// SPDX-License-Identifier: MIT
#include "paper/camera.h"

#include <algorithm>
#include <array>
#include <cmath>

#include "colour/srgb.h"

namespace kithue::paper {
namespace {

constexpr int kStrip = 64;  // rows a job

std::uint64_t mixed(std::uint64_t z) noexcept {
  z = (z ^ (z >> 30U)) * 0xbf58476d1ce4e5b9U;
  z = (z ^ (z >> 27U)) * 0x94d049bb133111ebU;
  return z ^ (z >> 31U);
}

/// Random bits that belong to a place, so that strips may be drawn in any order.
std::uint64_t place_bits(std::uint64_t seed, std::uint64_t layer, int x, int y) noexcept {
  const auto ux = static_cast<std::uint64_t>(static_cast<std::uint32_t>(x));
  const auto uy = static_cast<std::uint64_t>(static_cast<std::uint32_t>(y));
  return mixed(mixed(seed * 0x9e3779b97f4a7c15U + layer) + (ux << 32U | uy) * 0xd1342543de82ef95U);
}

/// Close to a standard normal number: the sum of four 16-bit ones.
double bell(std::uint64_t bits) noexcept {
  const double sum = static_cast<double>((bits & 0xffffU) + (bits >> 16U & 0xffffU) +
                                         (bits >> 32U & 0xffffU) + (bits >> 48U));
  return (sum / 65536.0 - 2.0) * std::sqrt(3.0);
}

double smooth_step(double t) noexcept {
  return t * t * (3.0 - 2.0 * t);
}

/// Smooth noise of standard deviation near 1 with one knot every 1 in x and y.
double smooth_noise(std::uint64_t seed, std::uint64_t layer, double x, double y) noexcept {
  const double fx = std::floor(x);
  const double fy = std::floor(y);
  const int ix = static_cast<int>(fx);
  const int iy = static_cast<int>(fy);
  const double tx = smooth_step(x - fx);
  const double ty = smooth_step(y - fy);
  const auto knot = [&](int dx, int dy) { return bell(place_bits(seed, layer, ix + dx, iy + dy)); };
  const double top = knot(0, 0) + tx * (knot(1, 0) - knot(0, 0));
  const double low = knot(0, 1) + tx * (knot(1, 1) - knot(0, 1));
  return 1.45 * (top + ty * (low - top));
}

/// Watercolour: slow wandering with finer pools in it.
double wash_noise(std::uint64_t seed, double x, double y) noexcept {
  return 0.8 * smooth_noise(seed, 11, x * 6.0, y * 6.0) + 0.5 * smooth_noise(seed, 12, x * 17.0, y * 17.0) +
         0.33 * smooth_noise(seed, 13, x * 53.0, y * 53.0);
}

struct Light {
  float r = 0;
  float g = 0;
  float b = 0;
};

/// The labels of some sample rows: which colour lies at each sample.
class LabelStrip {
 public:
  /// Keeps the shapes that touch sample rows [first_row, first_row + rows).
  LabelStrip(const Face& face, double samples_per_unit, int columns, int first_row, int rows)
      : scale_(samples_per_unit), columns_(columns) {
    for (const Shape& shape : face.shapes) {
      const auto [low, high] = std::minmax_element(shape.outline.begin(), shape.outline.end(),
                                                   [](const Point& p, const Point& q) { return p.y < q.y; });
      const int top = static_cast<int>(std::ceil(std::clamp(low->y * scale_ - 0.5, -1.0, 1e9)));
      const int bottom = static_cast<int>(std::floor(std::clamp(high->y * scale_ - 0.5, -1.0, 1e9)));
      if (bottom >= first_row && top < first_row + rows) near_.push_back({&shape, top, bottom});
    }
  }

  void draw(int first_row, int rows) {
    labels_.assign(static_cast<std::size_t>(rows) * static_cast<std::size_t>(columns_), 0);
    for (const Near& near : near_) {
      const int from = std::max(first_row, near.top);
      const int to = std::min(first_row + rows - 1, near.bottom);
      for (int row = from; row <= to; ++row) paint_row(*near.shape, row, row - first_row);
    }
  }
  [[nodiscard]] const std::uint8_t* row(int index) const {
    return labels_.data() + static_cast<std::size_t>(index) * static_cast<std::size_t>(columns_);
  }

 private:
  struct Near {
    const Shape* shape;
    int top;
    int bottom;
  };

  void paint_row(const Shape& shape, int row, int index) {
    const double y = (row + 0.5) / scale_;
    crossings_.clear();
    for (std::size_t i = 0; i < shape.outline.size(); ++i) {
      const Point& p = shape.outline[i];
      const Point& q = shape.outline[(i + 1) % shape.outline.size()];
      if ((p.y <= y) != (q.y <= y)) {
        crossings_.push_back((p.x + (y - p.y) * (q.x - p.x) / (q.y - p.y)) * scale_ - 0.5);
      }
    }
    std::sort(crossings_.begin(), crossings_.end());
    std::uint8_t* out = labels_.data() + static_cast<std::size_t>(index) * static_cast<std::size_t>(columns_);
    for (std::size_t i = 0; i + 1 < crossings_.size(); i += 2) {
      const int left = static_cast<int>(std::ceil(std::clamp(crossings_[i], 0.0, columns_ + 1.0)));
      const int right = static_cast<int>(std::ceil(std::clamp(crossings_[i + 1], 0.0, columns_ + 0.0)));
      if (shape.overlaid.empty()) {
        if (left < right) std::fill(out + left, out + right, shape.colour);
      } else {
        for (int x = left; x < right; ++x) out[x] = shape.overlaid[out[x]];
      }
    }
  }

  double scale_;
  int columns_;
  std::vector<Near> near_;
  std::vector<std::uint8_t> labels_;
  std::vector<double> crossings_;
};

/// What one strip counts of the drawing itself.
struct Tally {
  std::vector<double> samples;
  std::vector<std::array<double, 3>> light;
};

struct Exposure {
  const Face& face;
  const Camera& camera;
  int width;
  int height;
  std::vector<LinearRgb> paints;
  std::vector<float> kernel;  ///< the blur's half, centre first
};

Light washed(const LinearRgb& paint, double density) {
  // Thicker or thinner pigment: light falls as a power of it (Beer-Lambert).
  const auto one = [density](double light) {
    return static_cast<float>(std::pow(std::max(light, 1e-4), 1.0 + density));
  };
  return {one(paint.r), one(paint.g), one(paint.b)};
}

/// Area averages of rows [first, first + rows) of the drawing, in light, grain and wash included.
/// Rows outside the frame repeat the edge. `tally` may be null.
void draw_rows(const Exposure& exposure, int first, int rows, int counted_from, int counted_to, Light* out,
               Tally& tally) {
  const int s = exposure.camera.samples;
  const double scale = static_cast<double>(exposure.width) / exposure.face.width * s;
  LabelStrip strip(exposure.face, scale, exposure.width * s, std::clamp(first, 0, exposure.height - 1) * s,
                   rows * s);
  const std::size_t colours = exposure.face.colours.size();
  std::vector<int> counts(colours);
  const float part = 1.0F / static_cast<float>(s * s);
  for (int i = 0; i < rows; ++i) {
    const int y = std::clamp(first + i, 0, exposure.height - 1);
    strip.draw(y * s, s);
    const bool counted = first + i >= counted_from && first + i < counted_to;
    for (int x = 0; x < exposure.width; ++x) {
      std::fill(counts.begin(), counts.end(), 0);
      for (int row = 0; row < s; ++row) {
        const std::uint8_t* labels = strip.row(row) + static_cast<std::ptrdiff_t>(x) * s;
        for (int k = 0; k < s; ++k) ++counts[labels[k]];
      }
      Light sum;
      for (std::size_t c = 0; c < colours; ++c) {
        if (counts[c] == 0) continue;
        const Paint& paint = exposure.face.colours[c];
        const LinearRgb& flat = exposure.paints[c];
        Light light{static_cast<float>(flat.r), static_cast<float>(flat.g), static_cast<float>(flat.b)};
        if (paint.wash > 0.0) {
          const double across = static_cast<double>(exposure.width);
          light = washed(flat, paint.wash * wash_noise(exposure.camera.seed + c, x / across, y / across));
        }
        const auto n = static_cast<float>(counts[c]);
        sum.r += n * light.r;
        sum.g += n * light.g;
        sum.b += n * light.b;
        if (counted) {
          tally.samples[c] += n;
          tally.light[c][0] += static_cast<double>(n * light.r);
          tally.light[c][1] += static_cast<double>(n * light.g);
          tally.light[c][2] += static_cast<double>(n * light.b);
        }
      }
      const double grain = exposure.camera.grain == 0.0
                               ? 1.0
                               : 1.0 + exposure.camera.grain * smooth_noise(exposure.camera.seed, 3,
                                                                            x / exposure.camera.grain_pixels,
                                                                            y / exposure.camera.grain_pixels);
      const float gain = part * static_cast<float>(grain);
      out[static_cast<std::size_t>(i) * static_cast<std::size_t>(exposure.width) +
          static_cast<std::size_t>(x)] = {sum.r * gain, sum.g * gain, sum.b * gain};
    }
  }
}

std::vector<float> blur_kernel(double sigma) {
  std::vector<float> half{1.0F};
  if (sigma <= 0.0) return half;
  const int reach = static_cast<int>(std::ceil(sigma * 3.5));
  double sum = 1.0;
  for (int i = 1; i <= reach; ++i) {
    half.push_back(static_cast<float>(std::exp(-0.5 * i * i / (sigma * sigma))));
    sum += 2.0 * static_cast<double>(half.back());
  }
  for (float& weight : half) weight = static_cast<float>(static_cast<double>(weight) / sum);
  return half;
}

const std::vector<unsigned char>& coding_table() {
  static const std::vector<unsigned char> table = [] {
    std::vector<unsigned char> made(65536);
    for (std::size_t i = 0; i < made.size(); ++i) {
      made[i] = static_cast<unsigned char>(
          std::lround(255.0 * coded_from_light((static_cast<double>(i)) / 65535.0)));
    }
    return made;
  }();
  return table;
}

unsigned char coded_byte(double light) {
  const double clipped = std::clamp(light, 0.0, 1.0);
  return coding_table()[static_cast<std::size_t>(clipped * 65535.0 + 0.5)];
}

Light blurred_across(const Light* row, int x, int width, const std::vector<float>& kernel) {
  Light sum;
  const int reach = static_cast<int>(kernel.size()) - 1;
  for (int d = -reach; d <= reach; ++d) {
    const Light& p = row[std::clamp(x + d, 0, width - 1)];
    const float weight = kernel[static_cast<std::size_t>(std::abs(d))];
    sum.r += weight * p.r;
    sum.g += weight * p.g;
    sum.b += weight * p.b;
  }
  return sum;
}

/// Light on the sensor to the stored byte: exposure, fall-off, cast, shot noise, coding.
void store_row(const Exposure& exposure, int y, const Light* row, unsigned char* out) {
  const Camera& camera = exposure.camera;
  for (int x = 0; x < exposure.width; ++x) {
    const double gain =
        camera.exposure * fall_off(camera, (x + 0.5) / exposure.width, (y + 0.5) / exposure.height);
    const Light& p = row[x];
    const auto seen = times(camera.cast, {gain * static_cast<double>(p.r), gain * static_cast<double>(p.g),
                                          gain * static_cast<double>(p.b)});
    for (std::size_t c = 0; c < 3; ++c) {
      // Shot noise grows with the root of the light; a little is there in the dark.
      const double sd = camera.noise * std::sqrt(std::max(seen[c], 0.0) + 0.01);
      const double light = seen[c] + sd * bell(place_bits(camera.seed, 20 + c, x, y));
      out[3 * x + static_cast<int>(c)] = coded_byte(light);
    }
  }
}

void shoot_strip(const Exposure& exposure, int first, int rows, unsigned char* out, Tally& tally) {
  const int reach = static_cast<int>(exposure.kernel.size()) - 1;
  const auto width = static_cast<std::size_t>(exposure.width);
  std::vector<Light> drawn(static_cast<std::size_t>(rows + 2 * reach) * width);
  draw_rows(exposure, first - reach, rows + 2 * reach, first, first + rows, drawn.data(), tally);
  std::vector<Light> across(drawn.size());
  for (int i = 0; i < rows + 2 * reach; ++i) {
    const Light* row = drawn.data() + static_cast<std::size_t>(i) * width;
    for (int x = 0; x < exposure.width; ++x) {
      across[static_cast<std::size_t>(i) * width + static_cast<std::size_t>(x)] =
          blurred_across(row, x, exposure.width, exposure.kernel);
    }
  }
  std::vector<Light> line(width);
  for (int i = 0; i < rows; ++i) {
    std::fill(line.begin(), line.end(), Light{});
    for (int d = -reach; d <= reach; ++d) {
      const Light* row = across.data() + static_cast<std::size_t>(i + reach + d) * width;
      const float weight = exposure.kernel[static_cast<std::size_t>(std::abs(d))];
      for (std::size_t x = 0; x < width; ++x) {
        line[x].r += weight * row[x].r;
        line[x].g += weight * row[x].g;
        line[x].b += weight * row[x].b;
      }
    }
    store_row(exposure, first + i, line.data(), out + static_cast<std::size_t>(i) * width * 3);
  }
}

}  // namespace

double fall_off(const Camera& camera, double x, double y) noexcept {
  const double u = 2.0 * x - 1.0;
  const double v = 2.0 * y - 1.0;
  // (u^2 + v^2) / 2 is 1 in the corner and has the mean 1/3.
  return 1.0 + camera.fall_right * u + camera.fall_down * v +
         camera.fall_corner * (1.0 / 3.0 - (u * u + v * v) / 2.0);
}

Shot photograph(const Face& face, const Camera& camera, Executor& executor) {
  Exposure exposure{
      face,         camera,
      camera.width, std::max(1, static_cast<int>(std::lround(camera.width * face.height / face.width))),
      {},           {}};
  for (const Paint& paint : face.colours) exposure.paints.push_back(rgb_from_lab(paint.lab));
  exposure.kernel = blur_kernel(camera.blur);

  Shot shot{exposure.width, exposure.height, {}, {}, {}};
  shot.rgb.resize(static_cast<std::size_t>(exposure.width) * static_cast<std::size_t>(exposure.height) * 3);
  const auto strips = static_cast<std::size_t>((exposure.height + kStrip - 1) / kStrip);
  const std::size_t colours = face.colours.size();
  std::vector<Tally> tallies(strips,
                             {std::vector<double>(colours), std::vector<std::array<double, 3>>(colours)});
  executor.run(strips, [&](std::size_t index) {
    const int first = static_cast<int>(index) * kStrip;
    const int rows = std::min(kStrip, exposure.height - first);
    shoot_strip(
        exposure, first, rows,
        shot.rgb.data() + static_cast<std::size_t>(first) * static_cast<std::size_t>(exposure.width) * 3,
        tallies[index]);
  });
  double all = 0.0;
  Tally total{std::vector<double>(colours), std::vector<std::array<double, 3>>(colours)};
  for (const Tally& tally : tallies) {
    for (std::size_t c = 0; c < colours; ++c) {
      total.samples[c] += tally.samples[c];
      all += tally.samples[c];
      for (std::size_t k = 0; k < 3; ++k) total.light[c][k] += tally.light[c][k];
    }
  }
  for (std::size_t c = 0; c < colours; ++c) {
    const double n = total.samples[c];
    shot.shares.push_back(n / all);
    const bool flat = face.colours[c].wash <= 0.0 || n == 0.0;
    shot.means.push_back(
        flat ? face.colours[c].lab
             : lab_from_rgb({total.light[c][0] / n, total.light[c][1] / n, total.light[c][2] / n}));
  }
  return shot;
}

const Matrix3& ShotRows::to_xyz() const {
  return srgb_to_d50();
}

void ShotRows::read(int x, int y, int count, float* light) const {
  static const std::array<float, 256> table = [] {
    std::array<float, 256> made{};
    for (std::size_t i = 0; i < 256; ++i)
      made[i] = static_cast<float>(light_from_coded(static_cast<double>(i) / 255.0));
    return made;
  }();
  const std::size_t start =
      (static_cast<std::size_t>(y) * static_cast<std::size_t>(shot_.width) + static_cast<std::size_t>(x)) * 3;
  for (std::size_t i = 0; i < static_cast<std::size_t>(count) * 3; ++i)
    light[i] = table[shot_.rgb[start + i]];
}

}  // namespace kithue::paper
