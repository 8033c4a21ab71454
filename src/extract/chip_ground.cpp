// SPDX-License-Identifier: MIT
#include "extract/chip_ground.h"

#include <algorithm>
#include <cmath>
#include <map>
#include <utility>

#include "extract/solve.h"

namespace kithue::extract {
namespace {

constexpr double kLeastShare = 0.1;
constexpr double kBin = 8.0;   // CIELAB units
constexpr int kFitSide = 300;  // six numbers need no more places a side than this

using GroundTerms = std::array<double, 6>;

GroundTerms ground_terms_at(double u, double v) {
  const double x = 2.0 * u - 1.0;
  const double y = 2.0 * v - 1.0;
  return {1.0, x, y, x * x, x * y, y * y};
}

double middle_of(std::vector<double> values) {
  const auto half = values.begin() + static_cast<std::ptrdiff_t>(values.size() / 2);
  std::nth_element(values.begin(), half, values.end());
  return *half;
}

Lab median_at(const SmallLab& picture, const std::vector<std::size_t>& places) {
  std::array<std::vector<double>, 3> parts;
  for (const std::size_t at : places) {
    parts[0].push_back(picture.lab[at].L);
    parts[1].push_back(picture.lab[at].a);
    parts[2].push_back(picture.lab[at].b);
  }
  return {middle_of(std::move(parts[0])), middle_of(std::move(parts[1])), middle_of(std::move(parts[2]))};
}

std::vector<std::size_t> edge_of(const SmallLab& picture) {
  const int rim = std::max(1, std::min(picture.width, picture.height) / 50);
  std::vector<std::size_t> places;
  for (int y = 0; y < picture.height; ++y) {
    for (int x = 0; x < picture.width; ++x) {
      if (x < rim || y < rim || x >= picture.width - rim || y >= picture.height - rim)
        places.push_back(picture.index(x, y));
    }
  }
  return places;
}

/// Least squares over the pixels (of every few rows and columns) within `reach` of the surface as it is;
/// `count` of its six terms are let free. Nothing when they do not tell.
std::optional<Ground> refitted(const SmallLab& picture, const Ground& ground, double reach,
                               std::size_t count) {
  std::array<std::array<double, 6>, 6> m{};
  std::array<GroundTerms, 3> sums{};
  std::vector<double> distances;
  const int step = std::max(1, std::max(picture.width, picture.height) / kFitSide);
  std::size_t seen = 0;
  for (int y = 0; y < picture.height; y += step) {
    for (int x = 0; x < picture.width; x += step) {
      ++seen;
      const double u = (x + 0.5) / picture.width;
      const double v = (y + 0.5) / picture.height;
      const Lab& lab = picture.at(x, y);
      const double far = plain_distance(lab, ground.at(u, v));
      if (!(far < reach)) continue;
      distances.push_back(far);
      const GroundTerms terms = ground_terms_at(u, v);
      for (std::size_t i = 0; i < count; ++i) {
        for (std::size_t j = 0; j < count; ++j) m[i][j] += terms[i] * terms[j];
        sums[0][i] += terms[i] * lab.L;
        sums[1][i] += terms[i] * lab.a;
        sums[2][i] += terms[i] * lab.b;
      }
    }
  }
  Ground found;
  found.share = static_cast<double>(distances.size()) / static_cast<double>(seen);
  if (found.share < 0.5 * kLeastShare) return std::nullopt;
  for (std::size_t i = 0; i < 6; ++i) m[i][i] += 1e-3 + (i < count ? 0.0 : 1.0);
  for (std::size_t c = 0; c < 3; ++c) {
    if (!solve(m, sums[c])) return std::nullopt;
    found.terms[c] = sums[c];
  }
  found.noise = middle_of(std::move(distances));
  return found;
}

std::optional<Ground> grown_from(const SmallLab& picture, const Lab& start) {
  Ground ground;
  ground.terms[0][0] = start.L;
  ground.terms[1][0] = start.a;
  ground.terms[2][0] = start.b;
  // First what is nearly the same colour everywhere, then what a slope of the light makes of it.
  constexpr std::pair<double, std::size_t> kRounds[] = {{10, 1}, {10, 3}, {8, 3}, {8, 6}, {6, 6}};
  for (const auto& [reach, count] : kRounds) {
    const auto next = refitted(picture, ground, reach, count);
    if (!next) return std::nullopt;
    ground = *next;
  }
  for (int i = 0; i < 4; ++i) {
    const auto next = refitted(picture, ground, std::clamp(4.0 * ground.noise, 2.0, 8.0), 6);
    if (!next) return std::nullopt;
    ground = *next;
  }
  return ground.share < kLeastShare ? std::nullopt : std::optional(ground);
}

}  // namespace

double plain_distance(const Lab& x, const Lab& y) noexcept {
  return std::sqrt((x.L - y.L) * (x.L - y.L) + (x.a - y.a) * (x.a - y.a) + (x.b - y.b) * (x.b - y.b));
}

SmallLab shrunk(const LightRows& picture, int most_side) {
  SmallLab small;
  const int longest = std::max(picture.width(), picture.height());
  small.step = std::max(1, (longest + most_side - 1) / most_side);
  // A thin picture keeps one row of squares at least.
  small.step = std::min({small.step, picture.width(), picture.height()});
  small.width = picture.width() / small.step;
  small.height = picture.height() / small.step;
  const auto step = static_cast<std::size_t>(small.step);
  std::vector<float> row(static_cast<std::size_t>(small.width) * step * 3);
  small.lab.reserve(static_cast<std::size_t>(small.width) * static_cast<std::size_t>(small.height));
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

void smooth(SmallLab& picture) {
  const std::vector<Lab> before = picture.lab;
  for (int y = 0; y < picture.height; ++y) {
    for (int x = 0; x < picture.width; ++x) {
      Lab sum;
      double count = 0.0;
      for (int j = std::max(0, y - 1); j <= std::min(picture.height - 1, y + 1); ++j) {
        for (int i = std::max(0, x - 1); i <= std::min(picture.width - 1, x + 1); ++i) {
          const Lab& lab = before[picture.index(i, j)];
          sum = {sum.L + lab.L, sum.a + lab.a, sum.b + lab.b};
          count += 1.0;
        }
      }
      picture.lab[picture.index(x, y)] = {sum.L / count, sum.a / count, sum.b / count};
    }
  }
}

Lab most_frequent(const SmallLab& picture, const std::vector<std::size_t>& places) {
  const auto bin = [](double value) { return static_cast<int>(std::floor(value / kBin)); };
  std::map<std::array<int, 3>, std::size_t> counts;
  for (const std::size_t at : places) {
    const Lab& lab = picture.lab[at];
    ++counts[{bin(lab.L), bin(lab.a), bin(lab.b)}];
  }
  // The fullest bin may lie beside the peak: its neighbours count with it, in the pick and in the mean.
  std::size_t most = 0;
  std::array<int, 3> peak{};
  for (const auto& [key, own] : counts) {
    std::size_t sum = own;
    for (std::size_t c = 0; c < 3; ++c) {
      for (const int side : {-1, 1}) {
        auto beside = key;
        beside[c] += side;
        const auto found = counts.find(beside);
        if (found != counts.end()) sum += found->second;
      }
    }
    if (sum > most) {
      most = sum;
      peak = key;
    }
  }
  std::vector<std::size_t> near;
  for (const std::size_t at : places) {
    const Lab& lab = picture.lab[at];
    const int off =
        std::abs(bin(lab.L) - peak[0]) + std::abs(bin(lab.a) - peak[1]) + std::abs(bin(lab.b) - peak[2]);
    if (off <= 1) near.push_back(at);
  }
  return median_at(picture, near);
}

Lab Ground::at(double u, double v) const noexcept {
  const GroundTerms here = ground_terms_at(u, v);
  std::array<double, 3> lab{};
  for (std::size_t c = 0; c < 3; ++c) {
    for (std::size_t i = 0; i < 6; ++i) lab[c] += terms[c][i] * here[i];
  }
  return {lab[0], lab[1], lab[2]};
}

std::optional<Ground> fit_ground(const SmallLab& picture) {
  if (picture.lab.empty()) return std::nullopt;
  std::vector<std::size_t> all(picture.lab.size());
  for (std::size_t i = 0; i < all.size(); ++i) all[i] = i;
  // The paper may fill the frame, or lie on a table that shows around it.
  const auto from_edge = grown_from(picture, median_at(picture, edge_of(picture)));
  const auto from_most = grown_from(picture, most_frequent(picture, all));
  if (!from_edge || (from_most && from_most->share > from_edge->share)) return from_most;
  return from_edge;
}

}  // namespace kithue::extract
