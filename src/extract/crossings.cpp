// SPDX-License-Identifier: MIT
#include "extract/crossings.h"

#include <algorithm>
#include <array>
#include <cmath>

#include "extract/gradients.h"
#include "extract/ray.h"

namespace kithue::extract {
namespace {

constexpr std::size_t kStrokePlaces = 64;  // windows of each kind for one stroke
constexpr std::size_t kCores = 20'000;     // looked through

/// One core of a stroke, and what part of the contrast its cell shows.
struct Part {
  std::size_t core = 0;
  double part = 0.0;
};

/// What a window of pixels shows.
struct PixelWindow {
  double most = -1.0;  ///< part of the contrast of its strongest pixel; negative: outside the picture
  double one_way =
      0.0;  ///< 1: brightness changes in one direction only, as in a plain stroke; 0: in all alike
};

PixelWindow window_at(const LightRows& picture, const LinePlace& place, const Ray& ray) {
  constexpr std::size_t kWindow = 8;
  PixelWindow out;
  const int x0 = static_cast<int>(std::lround(place.x - 0.5 * (kWindow - 1)));
  const int y0 = static_cast<int>(std::lround(place.y - 0.5 * (kWindow - 1)));
  constexpr int kSpan = static_cast<int>(kWindow);
  if (x0 < 0 || y0 < 0 || x0 + kSpan > picture.width() || y0 + kSpan > picture.height()) return out;
  std::array<float, 3 * kWindow> row{};
  std::array<std::array<double, kWindow>, kWindow> value{};
  const double grow = 1.0 / place.gain;
  for (std::size_t j = 0; j < kWindow; ++j) {
    picture.read(x0, y0 + static_cast<int>(j), kSpan, row.data());
    for (std::size_t i = 0; i < kWindow; ++i) {
      const float* p = row.data() + 3 * i;
      value[j][i] = coded_of({grow * static_cast<double>(p[0]), grow * static_cast<double>(p[1]),
                              grow * static_cast<double>(p[2])})[0];
    }
  }
  Gradients gradients;
  for (std::size_t j = 1; j + 1 < kWindow; ++j) {
    for (std::size_t i = 1; i + 1 < kWindow; ++i) {
      // Further off lie pixels of other strokes.
      const bool inner = i >= 2 && j >= 2 && i + 2 < kWindow && j + 2 < kWindow;
      if (inner) out.most = std::max(out.most, ray.part_of(value[j][i]));
      gradients.add(value[j][i + 1] - value[j][i - 1], value[j + 1][i] - value[j - 1][i]);
    }
  }
  out.one_way = gradients.one_way();
  return out;
}

/// The middle values of some windows.
PixelWindow middle_of(const LightRows& picture, const Cutter& cutter, const std::vector<Core>& cores,
                      const Part* parts, std::size_t count, const Ray& ray) {
  std::vector<double> most;
  std::vector<double> one_way;
  const std::size_t step = (count + kStrokePlaces - 1) / kStrokePlaces;
  for (std::size_t i = 0; i < count; i += step) {
    const Core& core = cores[parts[i].core];
    const PixelWindow one =
        window_at(picture, cutter.place(core.x, core.y, core.left, core.right, core.across_x), ray);
    if (one.most <= 0.0) continue;
    most.push_back(one.most);
    one_way.push_back(one.one_way);
  }
  return {median_of(most), median_of(one_way)};
}

/// The part of its contrast that the middle of a stroke shows, from how much more the deepest places show.
double part_shown(double ratio, double one_way) {
  // Places where strokes cross change in all directions, those where two run side by side in one.
  const double crossing = std::clamp((0.95 - one_way) / 0.2, 0.0, 1.0);
  double low = 0.2;  // half the width of the stroke over root 2 times the smear
  double high = 3.0;
  for (int step = 0; step < 30; ++step) {
    const double z = 0.5 * (low + high);
    const double f = std::erf(z);
    const double deep = crossing * (2.0 - f) * f + (1.0 - crossing) * std::erf(2.0 * z);
    (deep > ratio * f ? low : high) = z;
  }
  return std::erf(0.5 * (low + high));
}

Depth depth_of(const LightRows& picture, const Cutter& cutter, const std::vector<Core>& cores,
               std::vector<Part>& parts, const Ray& ray) {
  constexpr std::size_t kLeast = 300;
  constexpr double kDeepPart = 0.005;  // of the cores
  constexpr double kCrossing = 1.06;   // noise alone makes less
  Depth out;
  if (parts.size() < kLeast) return out;
  std::sort(parts.begin(), parts.end(), [](const Part& x, const Part& y) {
    return x.part > y.part || (x.part == y.part && x.core < y.core);
  });
  const std::size_t n = parts.size();
  const auto deep = std::max<std::size_t>(12, static_cast<std::size_t>(kDeepPart * static_cast<double>(n)));
  const PixelWindow deepest = middle_of(picture, cutter, cores, parts.data(), deep, ray);
  const PixelWindow plain = middle_of(picture, cutter, cores, parts.data() + 2 * n / 5, n / 5, ray);
  if (plain.most <= 0.0 || plain.one_way < 0.6) return out;
  const double ratio = deepest.most / plain.most;
  if (ratio < kCrossing) return out;
  out.contrast = plain.most / part_shown(ratio, deepest.one_way);
  out.told = out.contrast > 0.8 && out.contrast < 1.35;
  return out;
}

}  // namespace

std::vector<Depth> depths_of(const LightRows& picture, const Cutter& cutter, const std::vector<Core>& cores,
                             const std::vector<Stroke>& strokes, double sharp, Executor& executor) {
  constexpr double kWide = 3.8;           // times the smear
  constexpr double kLeastContrast = 0.1;  // of brightness
  constexpr double kNear = 4.5;           // Lab units from the way
  constexpr double kRival = 2.5;          // and this much nearer to it than to any other
  std::vector<Ray> rays;
  for (const Stroke& one : strokes) {
    rays.emplace_back(cutter.lights()[one.ground == kNoLabel ? 0 : one.ground], one.ink, picture.to_xyz());
  }
  struct Span {
    double low = 0.0;
    double high = Ray::kMostPart;
  };
  std::vector<Span> span;
  for (const Stroke& one : strokes) {
    // In cells of two pixels; the middle of a broad stroke is never far from its whole contrast.
    const double shown = std::erf(one.width / (2.8284271 * std::sqrt(sharp * sharp + 0.35)));
    span.push_back({0.75 * shown, shown > 0.92 ? 1.1 : Ray::kMostPart});
  }
  std::vector<std::vector<Part>> parts(strokes.size());
  const std::size_t step = cores.size() / kCores + 1;
  for (std::size_t i = 0; i < cores.size(); i += step) {
    const Core& core = cores[i];
    if (core.left != core.right) continue;
    const Lab lab = lab_of(core.lab);
    std::size_t best = strokes.size();
    double least = kNear;
    double next = Ray::kNever;
    double part = 0.0;
    for (std::size_t s = 0; s < strokes.size(); ++s) {
      if (strokes[s].ground != core.left) continue;
      double miss = Ray::kNever;
      const double t = rays[s].part_of(lab, miss);
      if (t < span[s].low || t > span[s].high) continue;
      if (miss < least) {
        next = least;
        least = miss;
        best = s;
        part = t;
      } else {
        next = std::min(next, miss);
      }
    }
    if (best < strokes.size() && next > least + kRival) parts[best].push_back({i, part});
  }
  std::vector<Depth> out(strokes.size());
  executor.run(strokes.size(), [&](std::size_t s) {
    const Stroke& one = strokes[s];
    if (one.ground == kNoLabel || one.width > kWide * sharp || rays[s].contrast() < kLeastContrast) return;
    out[s] = depth_of(picture, cutter, cores, parts[s], rays[s]);
  });
  return out;
}

SmearFromDepth::SmearFromDepth(const std::vector<Stroke>& strokes, const std::vector<Depth>& depths,
                               double sharp, bool sure)
    : sharp2_(sharp * sharp), common2_(sharp * sharp) {
  double sum = 0.0;
  double weights = 0.0;
  for (std::size_t i = 0; i < strokes.size(); ++i) {
    if (!depths[i].told) continue;
    const double width2 = strokes[i].width * strokes[i].width;
    const double thinner2 = width2 / (depths[i].contrast * depths[i].contrast);
    // A narrow stroke whose contrast is a little off says little wrong about the smear, a broad one much.
    const double weight = static_cast<double>(strokes[i].looks) / width2;
    sum += weight * (sharp2_ + (width2 - thinner2) / 12.0);
    weights += weight;
  }
  if (weights <= 0.0) return;
  const double room = sure ? 0.05 : 0.35;
  common2_ =
      std::clamp((sure ? 0.5 : 0.8) * (sum / weights - sharp2_), -room * sharp2_, room * sharp2_) + sharp2_;
}

double SmearFromDepth::sharp() const {
  return std::sqrt(common2_);
}

double SmearFromDepth::contrast(const Stroke& stroke, const Depth& depth) const {
  const double width2 = stroke.width * stroke.width;
  const double thinner2 = std::max(0.4 * width2, width2 + 12.0 * (sharp2_ - common2_));
  const double common = std::clamp(std::sqrt(width2 / thinner2), 0.85, 1.3);
  return std::sqrt(common * depth.contrast);
}

}  // namespace kithue::extract
