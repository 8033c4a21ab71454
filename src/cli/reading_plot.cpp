// SPDX-License-Identifier: MIT
#include "cli/reading_plot.h"

#include <algorithm>
#include <cmath>
#include <cstddef>

#include "base/text.h"

namespace kithue {
namespace {

constexpr int kUp = 6;       // rows above and below the middle
constexpr int kAcross = 12;  // columns: letters are about twice as high as wide
constexpr std::size_t kScaleWidth = 11;

/// 1, 2, 5, 10, 20, ...: the reach of the drawing in CIELAB units.
double reach_for(double most) {
  for (double decade = 1.0; decade < 1000.0; decade *= 10.0) {
    for (const double step : {1.0, 2.0, 5.0}) {
      if (most <= step * decade) return step * decade;
    }
  }
  return 1000.0;
}

char mark_of(std::size_t index) {
  constexpr std::string_view kMarks = "123456789abcdefghijklmnopqrstuvwxyz";
  return index < kMarks.size() ? kMarks[index] : '*';
}

int steps(double value, double reach, int most) {
  return std::clamp(static_cast<int>(std::lround(value / reach * most)), -most, most);
}

/// Rows of the drawing, empty cells as blanks.
struct Canvas {
  std::vector<std::string> plane{2 * kUp + 1, std::string(2 * kAcross + 2, ' ')};
  std::vector<std::string> lightness{2 * kUp + 1};

  Canvas() {
    for (std::string& row : plane) row[kAcross] = '|';
    plane[kUp].replace(0, 2 * kAcross + 1, std::string(2 * kAcross + 1, '-'));
    plane[kUp][kAcross] = '+';
  }
  void put(const Lab& apart, double reach, char mark, bool far) {
    const auto column = static_cast<std::size_t>(kAcross + steps(apart.a, reach, kAcross));
    std::string& row = plane[static_cast<std::size_t>(kUp - steps(apart.b, reach, kUp))];
    const char there = row[column];
    row[column] = there == ' ' || there == '|' || there == '-' || there == '+' || there == '!' ? mark : '#';
    const char beside = row[column + 1];
    if (far && (beside == ' ' || beside == '|' || beside == '-')) row[column + 1] = '!';
    std::string& level = lightness[static_cast<std::size_t>(kUp - steps(apart.L, reach, kUp))];
    level += ' ';
    level += mark;
    if (far) level += '!';
  }
};

}  // namespace

std::string drawn_readings(const Swatch& swatch, const std::vector<std::size_t>& far) {
  const auto value = colour_of(swatch);
  const auto own = own_readings(swatch);
  if (!value || own.size() < 2) return {};
  double most = 0.0;
  for (const Reading* reading : own) {
    most = std::max({most, std::fabs(reading->lab.L - value->L), std::fabs(reading->lab.a - value->a),
                     std::fabs(reading->lab.b - value->b)});
  }
  const double reach = reach_for(most);
  Canvas canvas;
  for (const Reading* reading : own) {
    const auto index = static_cast<std::size_t>(reading - swatch.readings.data());
    canvas.put({reading->lab.L - value->L, reading->lab.a - value->a, reading->lab.b - value->b}, reach,
               mark_of(index), std::find(far.begin(), far.end(), index) != far.end());
  }
  std::string out =
      "readings around the value (+), " + exact_number(reach) + " in a*, b* and L* to each edge\n";
  const std::string indent(kScaleWidth, ' ');
  out += indent + "       yellower                lighter\n";
  for (std::size_t row = 0; row < canvas.plane.size(); ++row) {
    const bool middle = row == static_cast<std::size_t>(kUp);
    std::string line = (middle ? "   greener " : indent) + canvas.plane[row];
    line += middle ? " redder  +" : "         |";
    line += canvas.lightness[row];
    line.erase(line.find_last_not_of(' ') + 1);
    out += line + '\n';
  }
  return out + indent + "        bluer                  darker\n";
}

}  // namespace kithue
