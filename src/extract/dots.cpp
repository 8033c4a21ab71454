// SPDX-License-Identifier: MIT
#include "extract/dots.h"

#include <algorithm>
#include <cmath>

namespace kithue::extract {
namespace {

/// A disc smeared by a normal distribution, at `t` pixels from its middle: the sum over its chords.
double disc_at(double t, double radius, double sharp) noexcept {
  constexpr int kChords = 64;
  const double root2 = std::sqrt(2.0);
  double sum = 0.0;
  const double step = 2.0 * radius / kChords;
  for (int i = 0; i < kChords; ++i) {
    const double u = -radius + (i + 0.5) * step;
    const double z = (u - t) / sharp;
    sum += std::exp(-0.5 * z * z) * std::erf(std::sqrt(radius * radius - u * u) / (root2 * sharp));
  }
  return sum * step / (sharp * std::sqrt(2.0 * std::acos(-1.0)));
}

/// The mean of what `light_at` gives over the half of what cut_at averages along.
template <typename LightAt>
double mean_along(LightAt light_at) {
  constexpr int kPlaces = 6;
  double sum = 0.0;
  for (int i = 0; i < kPlaces; ++i) sum += light_at(kRoundReach * (i + 0.5) / kPlaces);
  return sum / kPlaces;
}

}  // namespace

double one_way_of(const std::vector<const Look*>& looks) {
  std::vector<double> one_way;
  for (const Look* look : looks) one_way.push_back(look->cut.one_way);
  return median_of(one_way);
}

bool are_dots(const std::vector<const Look*>& looks) {
  return one_way_of(looks) < kRoundOneWay;
}

double part_of_dot(double width, double sharp) noexcept {
  constexpr double kNarrower = 0.4;  // pixels that the line comes out narrower than the dot, near enough
  constexpr double kLeast = 0.5;
  const double radius = 0.5 * (width + kNarrower);
  const double disc = mean_along([&](double along) { return disc_at(along, radius, sharp); });
  const double line = std::erf(width / (2.0 * std::sqrt(2.0) * sharp));
  return std::clamp(disc / line, kLeast, 1.0);
}

double part_of_dash(double width, double sharp, double one_way) noexcept {
  constexpr double kDotOneWay = 0.12;
  const double dot = part_of_dot(width, sharp);
  const double as_dash = std::clamp((one_way - kDotOneWay) / (kDashOneWay - kDotOneWay), 0.0, 1.0);
  if (as_dash == 0.0) return dot;
  const double half = 0.5 * width * (1.0 + one_way) / std::max(0.1, 1.0 - one_way);
  const double by_sharp = 1.0 / (std::sqrt(2.0) * sharp);
  const double bar = mean_along([&](double along) {
    return 0.5 * (std::erf((half - along) * by_sharp) + std::erf((half + along) * by_sharp));
  });
  return dot + as_dash * (std::max(dot, bar) - dot);
  return dot + as_dash * (std::max(dot, bar) - dot);
}

Light light_of_dot(const LineColour& line, const Light& ground, const DotSmear& smear, bool sure,
                   double one_way) {
  const double part = part_of_dash(line.width, smear.light, one_way);
  const double light_part = sure ? part : std::sqrt(part);
  Light light;
  for (std::size_t c = 0; c < 3; ++c)
    light[c] = std::max(0.0, ground[c] + (line.light[c] - ground[c]) / light_part);
  // Coding smears colour once more, along the cut as well as across it.
  const double colour_part = part_of_dash(line.width, smear.colour, one_way) / part;
  Coded coded = coded_of(light);
  const Coded from = coded_of(ground);
  for (std::size_t c = 1; c < 3; ++c) coded[c] = from[c] + (coded[c] - from[c]) / colour_part;
  return light_of(coded);
}

}  // namespace kithue::extract
