// SPDX-License-Identifier: MIT
#include "advise/light.h"

#include <algorithm>
#include <array>
#include <cmath>

#include "base/text.h"
#include "colour/difference.h"

namespace kithue {
namespace {

constexpr std::array<std::string_view, 10> kCompared{"D50",    "D65",    "A",      "FL2",    "FL11",
                                                     "LED-B1", "LED-B2", "LED-B3", "LED-B4", "LED-B5"};

double de76(const Lab& x, const Lab& y) {
  return std::sqrt((x.L - y.L) * (x.L - y.L) + (x.a - y.a) * (x.a - y.a) + (x.b - y.b) * (x.b - y.b));
}

/// Black has no ratio; it needs none.
double ratio(double up, double down) {
  return down > 1e-9 ? up / down : 1.0;
}

bool is_daylight(const Illuminant& light) {
  return light.name.starts_with('D');
}

std::string named(const Illuminant& light) {
  return "the " + std::string(light.words) + " (" + std::string(light.name) + ")";
}

LightVerdict verdict_of(const LightReport& report) {
  const auto reference = std::find_if(report.lights.begin(), report.lights.end(),
                                      [&](const UnderLight& one) { return one.light == report.reference; });
  if (reference->de00 > kHoldsDe00) return LightVerdict::differs;
  return report.lights[report.worst].index_de00 > kHoldsDe00 ? LightVerdict::parts : LightVerdict::holds;
}

std::string words_for(const LightReport& report) {
  const UnderLight& worst = report.lights[report.worst];
  const std::string figure = fixed_number(worst.de00, 1) + " dE00 under " + named(*worst.light);
  switch (report.verdict) {
    case LightVerdict::holds:
      return "holds under lamp light: at most " + figure;
    case LightVerdict::parts:
      return "parts under lamp light: " + figure;
    case LightVerdict::differs:
      return "no match under " + std::string(report.reference->name) + " to begin with; " +
             (worst.index_de00 > kHoldsDe00 ? "lamp light changes the difference: "
                                            : "lamps change little: ") +
             figure;
    case LightVerdict::unknown:
      break;
  }
  return "unknown: needs a spectral reading";
}

}  // namespace

std::string_view word_for(LightVerdict verdict) noexcept {
  switch (verdict) {
    case LightVerdict::holds:
      return "holds";
    case LightVerdict::parts:
      return "parts";
    case LightVerdict::differs:
      return "differs";
    case LightVerdict::unknown:
      return "unknown";
  }
  return "unknown";
}

std::vector<const Illuminant*> lights_compared() {
  std::vector<const Illuminant*> lights;
  for (const std::string_view name : kCompared) lights.push_back(find_illuminant(name));
  return lights;
}

std::optional<Power> mean_spectrum(const Swatch& swatch) {
  Power sum{};
  double count = 0.0;
  for (const Reading* reading : own_readings(swatch)) {
    if (reading->spectrum.empty()) continue;
    const Power one = resampled({reading->spectrum, reading->start_nm, reading->step_nm});
    for (std::size_t i = 0; i < kPowerBands; ++i) sum[i] += one[i];
    count += 1.0;
  }
  if (count == 0.0) return std::nullopt;
  for (double& value : sum) value /= count;
  return sum;
}

LightReport compare_under_lights(const Power& x, const Power& y, const Illuminant& reference,
                                 Observer observer) {
  LightReport report;
  report.reference = &reference;
  const Xyz x_there = xyz_from_power(x, reference, observer);
  const Xyz y_there = xyz_from_power(y, reference, observer);
  const Xyz gain{ratio(x_there.X, y_there.X), ratio(x_there.Y, y_there.Y), ratio(x_there.Z, y_there.Z)};
  auto lights = lights_compared();
  if (std::find(lights.begin(), lights.end(), &reference) == lights.end())
    lights.insert(lights.begin(), &reference);
  for (const Illuminant* light : lights) {
    const Xyz white = white_of(*light, observer);
    const Xyz seen = xyz_from_power(y, *light, observer);
    const Lab one = lab_from_xyz(xyz_from_power(x, *light, observer), white);
    const Lab other = lab_from_xyz(seen, white);
    const Lab even = lab_from_xyz({seen.X * gain.X, seen.Y * gain.Y, seen.Z * gain.Z}, white);
    report.lights.push_back(
        {light, de76(one, other), ciede2000(one, other), de76(one, even), ciede2000(one, even)});
    const UnderLight& worst = report.lights[report.worst];
    const UnderLight& last = report.lights.back();
    if (!is_daylight(*light) && (is_daylight(*worst.light) || last.index_de00 > worst.index_de00))
      report.worst = report.lights.size() - 1;
  }
  report.verdict = verdict_of(report);
  report.words = words_for(report);
  return report;
}

}  // namespace kithue
