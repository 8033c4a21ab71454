// SPDX-License-Identifier: MIT
#include "extract/card.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <cstddef>
#include <vector>

namespace kithue {
namespace {

constexpr double kWhiteL = 85.0;  // from here on `known` is a white

/// Connected places of one colour.
struct Area {
  std::vector<std::size_t> places;
  Lab lab;
  std::array<double, 3> light{};
  double solid =
      0.0;  ///< near 1 for a filled rectangle: its size over that of the rectangle of equal moments
  int frame_sides = 0;
  double outside = 1.0;  ///< part of it that lies outside the sheet
};

double apart(const Lab& p, const Lab& q) {
  return std::sqrt((p.L - q.L) * (p.L - q.L) + (p.a - q.a) * (p.a - q.a) + (p.b - q.b) * (p.b - q.b));
}

bool in_sheet(const Sheet& sheet, double x, double y) {
  const auto& c = sheet.corners;
  for (std::size_t i = 0; i < 4; ++i) {
    const Spot& p = c[i];
    const Spot& q = c[(i + 1) % 4];
    if ((q.x - p.x) * (y - p.y) - (q.y - p.y) * (x - p.x) < 0.0) return false;
  }
  return true;
}

/// Places that look like all four around them.
std::vector<int> even_places(const SmallPicture& small) {
  constexpr double kEven = 2.0;
  std::vector<int> even(small.places.size(), 0);
  for (int y = 1; y + 1 < small.height; ++y) {
    for (int x = 1; x + 1 < small.width; ++x) {
      const Lab& here = small.at(x, y);
      even[small.index(x, y)] =
          apart(here, small.at(x - 1, y)) < kEven && apart(here, small.at(x + 1, y)) < kEven &&
                  apart(here, small.at(x, y - 1)) < kEven && apart(here, small.at(x, y + 1)) < kEven
              ? 1
              : 0;
    }
  }
  return even;
}

void describe_area(Area& area, const SmallPicture& small, const Sheet& sheet) {
  const double n = static_cast<double>(area.places.size());
  double sx = 0.0;
  double sy = 0.0;
  double sxx = 0.0;
  double syy = 0.0;
  double sxy = 0.0;
  int outside = 0;
  std::array<bool, 4> touches{};
  for (const std::size_t i : area.places) {
    const int column = static_cast<int>(i) % small.width;
    const int row = static_cast<int>(i) / small.width;
    const double x = column;
    const double y = row;
    sx += x;
    sy += y;
    sxx += x * x;
    syy += y * y;
    sxy += x * y;
    area.lab.L += small.places[i].L / n;
    area.lab.a += small.places[i].a / n;
    area.lab.b += small.places[i].b / n;
    for (std::size_t c = 0; c < 3; ++c) area.light[c] += static_cast<double>(small.light[i][c]) / n;
    touches[0] = touches[0] || column <= 1;
    touches[1] = touches[1] || row <= 1;
    touches[2] = touches[2] || column >= small.width - 2;
    touches[3] = touches[3] || row >= small.height - 2;
    outside += in_sheet(sheet, (x + 0.5) * small.step, (y + 0.5) * small.step) ? 0 : 1;
  }
  const double xx = sxx / n - sx / n * (sx / n) + 1.0 / 12.0;
  const double yy = syy / n - sy / n * (sy / n) + 1.0 / 12.0;
  const double xy = sxy / n - sx / n * (sy / n);
  area.solid = n / (12.0 * std::sqrt(std::max(1e-9, xx * yy - xy * xy)));
  for (const bool one : touches) area.frame_sides += one ? 1 : 0;
  area.outside = outside / n;
}

std::vector<Area> areas_of(const SmallPicture& small, const Sheet& sheet) {
  constexpr double kStep = 1.5;
  constexpr double kLeastPart = 0.002;  // of the frame
  const auto least = static_cast<std::size_t>(kLeastPart * static_cast<double>(small.places.size()));
  std::vector<int> left = even_places(small);
  std::vector<Area> areas;
  for (std::size_t start = 0; start < left.size(); ++start) {
    if (left[start] == 0) continue;
    Area area;
    area.places.push_back(start);
    left[start] = 0;
    for (std::size_t k = 0; k < area.places.size(); ++k) {
      const std::size_t here = area.places[k];
      const auto width = static_cast<std::size_t>(small.width);
      // The outermost places are never even, so that no neighbour lies beyond the frame.
      for (const std::size_t next : {here - 1, here + 1, here - width, here + width}) {
        if (left[next] == 0 || apart(small.places[here], small.places[next]) > kStep) continue;
        left[next] = 0;
        area.places.push_back(next);
      }
    }
    if (area.places.size() < std::max<std::size_t>(24, least)) continue;
    describe_area(area, small, sheet);
    areas.push_back(std::move(area));
  }
  return areas;
}

/// True when a light that a camera left uncorrected could make `known` look like this.
bool could_be(const Area& area, const Lab& known, const std::array<double, 3>& known_light) {
  const bool white = known.L >= kWhiteL;
  double low = 1e9;
  double high = 0.0;
  for (std::size_t c = 0; c < 3; ++c) {
    const double gain = known_light[c] / std::max(1e-6, area.light[c]);
    low = std::min(low, gain);
    high = std::max(high, gain);
  }
  constexpr double kWhiteCast = 3.0;  // a lamp's light taken for daylight
  constexpr double kGreyCast = 1.6;
  constexpr double kWhiteLeast = 55.0;
  constexpr double kGreyOff = 20.0;
  if (white) return high / low < kWhiteCast && area.lab.L > kWhiteLeast;
  return high / low < kGreyCast && std::abs(area.lab.L - known.L) < kGreyOff;
}

bool shaped_like_one(const Area& area, const Sheet& sheet, bool white) {
  constexpr double kOff = 0.07;
  if (sheet.certain && area.outside < 0.95) return false;
  if (std::abs(area.solid - 1.0) < kOff && area.frame_sides < 3) return true;
  // A light ground that fills the frame is no margin.
  return white && area.frame_sides >= 3 && (sheet.certain || sheet.border);
}

/// The largest square of the area's places, its outermost place left out.
void square_in(const Area& area, const SmallPicture& small, ReferenceCard& card) {
  std::vector<int> size(small.places.size(), 0);
  for (const std::size_t i : area.places) size[i] = 1;
  int best = 0;
  std::size_t corner = 0;
  for (int y = 1; y < small.height; ++y) {
    for (int x = 1; x < small.width; ++x) {
      const std::size_t i = small.index(x, y);
      if (size[i] == 0) continue;
      size[i] = 1 + std::min({size[small.index(x - 1, y)], size[small.index(x, y - 1)],
                              size[small.index(x - 1, y - 1)]});
      if (size[i] > best) {
        best = size[i];
        corner = i;
      }
    }
  }
  const int column = static_cast<int>(corner) % small.width;
  const int row = static_cast<int>(corner) / small.width;
  card.x = (column - best + 1) * small.step;
  card.y = (row - best + 1) * small.step;
  card.side = best * small.step;
}

/// The part of the photo that would be lighter than white if this area were of the known colour.
double too_light(const Area& area, const SmallPicture& small, const std::array<double, 3>& known_light) {
  constexpr double kLightest = 1.1;  // of the perfect white: brightened paper
  int over = 0;
  for (const auto& light : small.light) {
    double sum = 0.0;
    for (std::size_t c = 0; c < 3; ++c)
      sum += known_light[c] / std::max(1e-6, area.light[c]) * static_cast<double>(light[c]) / 3.0;
    over += sum > kLightest ? 1 : 0;
  }
  return over / static_cast<double>(small.light.size());
}

}  // namespace

ReferenceCard find_card(const SmallPicture& small, const Sheet& sheet, const Lab& known,
                        const Matrix3& to_xyz) {
  constexpr double kMostTooLight = 0.01;
  constexpr double kOneColour = 2.5;
  constexpr double kLightestBy = 4.0;
  ReferenceCard card;
  const Xyz xyz = xyz_from_lab(known);
  const auto known_light = times(inverse(to_xyz), {xyz.X, xyz.Y, xyz.Z});
  const bool white = known.L >= kWhiteL;
  std::vector<Area> fit;
  for (Area& area : areas_of(small, sheet)) {
    if (shaped_like_one(area, sheet, white) && could_be(area, known, known_light) &&
        too_light(area, small, known_light) <= kMostTooLight)
      fit.push_back(std::move(area));
  }
  if (fit.empty()) {
    card.words = "no card or margin of that colour is certain in the photo";
    return card;
  }
  const auto lighter = [](const Area& p, const Area& q) { return p.lab.L > q.lab.L; };
  const auto larger = [](const Area& p, const Area& q) { return p.places.size() > q.places.size(); };
  std::stable_sort(fit.begin(), fit.end(), lighter);
  std::vector<Area> same;
  for (const Area& area : fit) {
    if (apart(area.lab, fit.front().lab) < kOneColour) {
      same.push_back(area);
    } else if (!white || area.lab.L > fit.front().lab.L - kLightestBy) {
      card.words = "several areas could be the card";
      return card;
    }
  }
  std::stable_sort(same.begin(), same.end(), larger);
  const Area& chosen = same.front();
  square_in(chosen, small, card);
  card.certain = true;
  card.words = chosen.frame_sides >= 3 ? "the margin around the sheet" : "a card";
  return card;
}

}  // namespace kithue
