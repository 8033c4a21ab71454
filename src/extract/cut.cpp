// SPDX-License-Identifier: MIT
#include "extract/cut.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <cstddef>
#include <span>

#include "extract/gradients.h"

namespace kithue::extract {
namespace {

constexpr double kMostReach = 16.0;

/// What a pixel counts that is this far off along x or y.
double near_weight(double away) {
  return std::exp(-0.5 * away * away / 9.0);
}

/// The pixels around a place, coded as JPEG does.
struct CutWindow {
  int x0 = 0;
  int y0 = 0;
  int width = 0;
  int height = 0;
  std::vector<Coded> pixels;
  [[nodiscard]] const Coded& at(int i, int j) const {
    return pixels[static_cast<std::size_t>(j) * static_cast<std::size_t>(width) +
                  static_cast<std::size_t>(i)];
  }
};

/// Up to so many pixels to each side of the place.
CutWindow window_at(const LightRows& picture, const LinePlace& place, int half_x, int half_y) {
  CutWindow out;
  out.x0 = static_cast<int>(std::floor(place.x)) - half_x;
  out.y0 = static_cast<int>(std::floor(place.y)) - half_y;
  out.width = 2 * half_x + 1;
  out.height = 2 * half_y + 1;
  const auto count = static_cast<std::size_t>(out.width);
  std::vector<float> row(count * 3);
  out.pixels.resize(count * static_cast<std::size_t>(out.height));
  const double part = 1.0 / place.gain;
  Coded* next = out.pixels.data();
  for (int j = 0; j < out.height; ++j) {
    picture.read(out.x0, out.y0 + j, out.width, row.data());
    for (const float* p = row.data(); p != row.data() + row.size(); p += 3)
      *next++ = coded_of({part * double{p[0]}, part * double{p[1]}, part * double{p[2]}});
  }
  return out;
}

/// Where brightness and colour change near the place (cx, cy).
Gradients gradients_in(const CutWindow& window, double cx, double cy) {
  Gradients out;
  std::vector<double> weight_x;
  for (int i = 0; i < window.width; ++i) weight_x.push_back(near_weight(i - cx));
  for (int j = 1; j + 1 < window.height; ++j) {
    const double weight_y = near_weight(j - cy);
    for (int i = 1; i + 1 < window.width; ++i) {
      const double w = weight_x[static_cast<std::size_t>(i)] * weight_y;
      for (std::size_t c = 0; c < 3; ++c) {
        out.add(window.at(i + 1, j)[c] - window.at(i - 1, j)[c],
                window.at(i, j + 1)[c] - window.at(i, j - 1)[c], w);
      }
    }
  }
  return out;
}

/// How an edge or line through the place bends, 1 / pixels: at `along` it lies bend / 2 * along^2 farther
/// across than at the place. Least squares over where brightness is steepest.
double bend_in(const CutWindow& window, double cx, double cy, double nx, double ny) {
  constexpr double kMost = 0.2;
  double turned = 0.0;
  double steep = 1e-12;
  for (int j = 1; j + 1 < window.height; ++j) {
    const double weight_y = near_weight(j - cy);
    for (int i = 1; i + 1 < window.width; ++i) {
      const double gx = window.at(i + 1, j)[0] - window.at(i - 1, j)[0];
      const double gy = window.at(i, j + 1)[0] - window.at(i, j - 1)[0];
      const double across = gx * nx + gy * ny;
      const double along = gy * nx - gx * ny;
      const double off = (j - cy) * nx - (i - cx) * ny;
      const double w = weight_y * near_weight(i - cx);
      turned -= w * off * along * across;
      steep += w * off * off * across * across;
    }
  }
  return std::clamp(turned / steep, -kMost, kMost);
}

/// What a pixel's colour difference is mixed of, along x or y: as JFIF has it, a sample is the mean of the
/// two pixels that share it, and decoders (libjpeg's "fancy upsampling") give a pixel 3/4 of its own sample
/// and 1/4 of the next.
struct Share {
  int pixels;
  double part;
};
std::span<const Share> parts_of_pixel(int pixels_a_sample, int pixel) {
  static constexpr std::array<Share, 1> kOwn{{{0, 1.0}}};
  static constexpr std::array<Share, 4> kEven{{{-2, 0.125}, {-1, 0.125}, {0, 0.375}, {1, 0.375}}};
  static constexpr std::array<Share, 4> kOdd{{{-1, 0.375}, {0, 0.375}, {1, 0.125}, {2, 0.125}}};
  if (pixels_a_sample == 1) return kOwn;
  if (pixel % 2 == 0) return kEven;
  return kOdd;
}

/// The spreads along a cut across (nx, ny): of pixels at even and odd x and y, which are four kinds.
class Spreads {
 public:
  Spreads(const Sampling& sampling, double nx, double ny)
      : odd_across_(sampling.odd_across ? 1 : 0), odd_down_(sampling.odd_down ? 1 : 0) {
    for (std::size_t kind = 0; kind < kKinds; ++kind) {
      for (const Share& along_x : parts_of_pixel(sampling.across, static_cast<int>(kind % 2))) {
        for (const Share& along_y : parts_of_pixel(sampling.down, static_cast<int>(kind / 2)))
          add(kind, (along_x.pixels * nx + along_y.pixels * ny) / Spread::kStep, along_x.part * along_y.part);
      }
    }
  }
  static constexpr std::size_t kKinds = 4;
  using Counts = std::array<double, kKinds>;
  /// Of a pixel; its place from the first of a sample.
  [[nodiscard]] std::size_t kind_of(int x, int y) const {
    return static_cast<std::size_t>(((x + odd_across_) & 1) + 2 * ((y + odd_down_) & 1));
  }

  /// At a distance `at`, the mean over pixels of each kind.
  [[nodiscard]] Spread at(double at, const Counts& pixels) const {
    const double all = pixels[0] + pixels[1] + pixels[2] + pixels[3];
    std::array<double, kNodes> mean{};
    for (std::size_t kind = 0; kind < kKinds; ++kind) {
      if (pixels[kind] == 0.0) continue;
      for (std::size_t i = 0; i < kNodes; ++i) mean[i] += pixels[kind] / all * taps_[kind][i];
    }
    const double place = at / Spread::kStep;
    const double whole = std::floor(place);
    const double past = place - whole;
    Spread out;
    out.first = static_cast<int>(whole) - kMiddle;
    for (std::size_t i = 0; i < kNodes; ++i) {
      out.taps[i] += static_cast<float>((1.0 - past) * mean[i]);
      out.taps[i + 1] += static_cast<float>(past * mean[i]);
    }
    return out;
  }

 private:
  static constexpr std::size_t kNodes = Spread::kTaps - 1;
  static constexpr int kMiddle = 7;
  /// Divided among four taps so that neither place nor width nor skewness changes (Lagrange's cubic).
  void add(std::size_t kind, double steps, double part) {
    const double whole = std::floor(steps);
    const double t = steps - whole;
    const std::array<double, 4> four{-t * (t - 1.0) * (t - 2.0) / 6.0,
                                     (t + 1.0) * (t - 1.0) * (t - 2.0) / 2.0,
                                     -(t + 1.0) * t * (t - 2.0) / 2.0, (t + 1.0) * t * (t - 1.0) / 6.0};
    for (std::size_t i = 0; i < four.size(); ++i)
      taps_[kind][static_cast<std::size_t>(static_cast<int>(whole) + kMiddle - 1) + i] += part * four[i];
  }
  int odd_across_;
  int odd_down_;
  std::array<std::array<double, kNodes>, kKinds> taps_{};
};

}  // namespace

Cut cut_at(const LightRows& picture, const LinePlace& place, double before, double after) {
  constexpr double kLeastAcross = 0.5;  // of the direction along which the line is said to be crossed
  constexpr int kNear = 10;             // pixels that tell the direction
  const double reach = std::max(before, after);
  Cut cut;
  cut.left = place.left;
  cut.right = place.right;
  const int half = static_cast<int>(std::ceil(std::min(reach, kMostReach))) + 2;
  const int column = static_cast<int>(std::floor(place.x));
  const int line = static_cast<int>(std::floor(place.y));
  if (column < half || line < half || column + half >= picture.width() || line + half >= picture.height())
    return cut;
  const auto read = [&](int aside) {
    return place.across_x ? window_at(picture, place, half, aside) : window_at(picture, place, aside, half);
  };
  int aside = std::min(half, kNear);
  CutWindow window = read(aside);
  const Gradients gradients = gradients_in(window, place.x - window.x0, place.y - window.y0);
  double nx = std::cos(gradients.angle());
  double ny = std::sin(gradients.angle());
  // `left` must lie on the negative side.
  if ((place.across_x ? nx : ny) < 0.0) {
    nx = -nx;
    ny = -ny;
  }
  const double across_part = place.across_x ? nx : ny;
  if (across_part < kLeastAcross) return cut;
  cut.across = {nx, ny};
  cut.one_way = gradients.one_way();
  const bool is_plain_line = cut.one_way > 0.8;
  const double along_most = is_plain_line ? 3.0 : kRoundReach;
  const double tilt = std::sqrt(std::max(0.0, 1.0 - across_part * across_part));
  const double needed = tilt * std::min(reach, kMostReach + 2.0) + along_most * across_part;
  if (needed > aside && aside < half) {
    aside = std::min(half, static_cast<int>(std::ceil(needed)));
    window = read(aside);
  }
  const double cx = place.x - window.x0;
  const double cy = place.y - window.y0;
  const double half_bend = is_plain_line ? 0.5 * bend_in(window, cx, cy, nx, ny) : 0.0;
  const Sampling sampling = picture.sampling();
  const bool shared = sampling.across > 1 || sampling.down > 1;
  const Spreads spreads(sampling, nx, ny);
  constexpr double kCutBin = 0.5;
  const int bins = static_cast<int>(std::ceil(reach / kCutBin));
  std::vector<Coded> sums(static_cast<std::size_t>(2 * bins + 1), Coded{});
  std::vector<double> places(sums.size(), 0.0);
  std::vector<double> squares(sums.size(), 0.0);  // of the places
  std::vector<double> counts(sums.size(), 0.0);
  std::vector<Spreads::Counts> kinds(sums.size());
  for (int j = 0; j < window.height; ++j) {
    for (int i = 0; i < window.width; ++i) {
      const double along = -(i - cx) * ny + (j - cy) * nx;
      const double across = (i - cx) * nx + (j - cy) * ny - half_bend * along * along;
      if (std::abs(along) > along_most || across < -before || across > after) continue;
      const auto bin = static_cast<std::size_t>(static_cast<int>(std::lround(across / kCutBin)) + bins);
      if (bin >= sums.size()) continue;
      const Coded& v = window.at(i, j);
      for (std::size_t c = 0; c < 3; ++c) sums[bin][c] += v[c];
      places[bin] += across;
      squares[bin] += across * across;
      counts[bin] += 1.0;
      kinds[bin][spreads.kind_of(window.x0 + i, window.y0 + j)] += 1.0;
    }
  }
  double pixels = 0.0;
  for (std::size_t b = 0; b < sums.size(); ++b) {
    if (counts[b] == 0.0) continue;
    pixels += counts[b];
    cut.gathered += squares[b] - places[b] * places[b] / counts[b];
    for (double& v : sums[b]) v /= counts[b];
    cut.at.push_back(places[b] / counts[b]);
    cut.value.push_back(sums[b]);
    cut.weight.push_back(counts[b]);
    if (shared) cut.spread.push_back(spreads.at(cut.at.back(), kinds[b]));
  }
  cut.gathered = std::max(0.0, cut.gathered) / std::max(1.0, pixels);
  cut.usable = cut.at.size() > 8;
  return cut;
}

}  // namespace kithue::extract
