// SPDX-License-Identifier: MIT
#include "swatch/drift.h"

#include <algorithm>
#include <array>
#include <cmath>

#include "base/text.h"
#include "colour/difference.h"

namespace kithue {
namespace {

constexpr double kUsualNoise = 0.3;
constexpr double kUsualWeight = 4.0;     // readings that the usual noise counts for
constexpr double kOneInHundred = 2.326;  // standard errors, one side
constexpr double kMedianPrice = 1.25;    // standard error of a median over that of a mean, at most
constexpr std::size_t kEnough = 3;
constexpr std::size_t kMostAsked = 20;

std::vector<const Reading*> readings_of(const Swatch& swatch, const std::string& batch) {
  std::vector<const Reading*> found;
  for (const Reading* reading : own_readings(swatch)) {
    if (reading->batch == batch) found.push_back(reading);
  }
  return found;
}

BatchColour colour_of_batch(const Swatch& swatch, const std::string& batch) {
  Swatch only;
  for (const Reading* reading : readings_of(swatch, batch)) only.readings.push_back(*reading);
  only.surface = swatch.surface;
  return {batch, only.readings.size(), *colour_of(only)};
}

/// Sum of squares within a batch over the three coordinates, around their means.
double scatter(const std::vector<const Reading*>& readings) {
  std::array<double, 3> mean{};
  double squares = 0.0;
  const auto n = static_cast<double>(readings.size());
  for (const Reading* reading : readings) {
    const std::array<double, 3> value{reading->lab.L, reading->lab.a, reading->lab.b};
    for (std::size_t c = 0; c < 3; ++c) {
      mean[c] += value[c] / n;
      squares += value[c] * value[c];
    }
  }
  return std::max(0.0, squares - n * (mean[0] * mean[0] + mean[1] * mean[1] + mean[2] * mean[2]));
}

/// Standard error of one coordinate of a batch's colour for a noise of 1.
double error_of(std::size_t readings) {
  const double mean = 1.0 / std::sqrt(static_cast<double>(readings));
  return readings < kEnough ? mean : kMedianPrice * mean;
}

/// How fast dE00 grows for a step of 1 in each coordinate of `to`, the three together.
double steepness(const Lab& from, const Lab& to) {
  constexpr double kStep = 0.05;
  const double here = ciede2000(from, to);
  // At one point all ways lead up: the steepest is what noise can use.
  const double up[] = {ciede2000(from, {to.L + kStep, to.a, to.b}) - here,
                       ciede2000(from, {to.L, to.a + kStep, to.b}) - here,
                       ciede2000(from, {to.L, to.a, to.b + kStep}) - here};
  return std::sqrt(up[0] * up[0] + up[1] * up[1] + up[2] * up[2]) / kStep;
}

double distance_to_limits(double de00, const DriftLimits& limits) {
  return std::min(std::fabs(de00 - limits.apart), std::fabs(de00 - limits.stop));
}

/// How many readings of each batch would put the difference two standard errors off every limit.
std::size_t readings_wanted(const Drift& drift, double steep, const DriftLimits& limits) {
  for (std::size_t n = kEnough; n <= kMostAsked; ++n) {
    if (2.0 * std::sqrt(2.0) * steep * drift.noise * error_of(n) < distance_to_limits(drift.de00, limits))
      return std::max(n, std::max(drift.from.readings, drift.to.readings) + 1);
  }
  return 0;
}

}  // namespace

std::string_view word_for(DriftVerdict verdict) noexcept {
  switch (verdict) {
    case DriftVerdict::same:
      return "same";
    case DriftVerdict::keep_apart:
      return "keep apart";
    case DriftVerdict::stop:
      return "stop";
  }
  return "stop";
}

std::vector<BatchColour> batches_of(const Swatch& swatch) {
  std::vector<BatchColour> batches;
  for (const Reading* reading : own_readings(swatch)) {
    if (std::none_of(batches.begin(), batches.end(),
                     [&](const BatchColour& one) { return one.batch == reading->batch; }))
      batches.push_back(colour_of_batch(swatch, reading->batch));
  }
  return batches;
}

Result<Drift> drift_between(const Swatch& swatch, const std::string& from, const std::string& to,
                            const DriftLimits& limits) {
  for (const std::string& batch : {from, to}) {
    if (readings_of(swatch, batch).empty())
      return Error{ErrorKind::not_found, swatch.name + " has no reading of batch \"" + batch + "\"", "",
                   "'kithue stash show' lists its readings with their batches"};
  }
  if (from == to) {
    return Error{ErrorKind::impossible, "one batch cannot drift from itself", "",
                 "name another with --from or --to"};
  }
  Drift drift{colour_of_batch(swatch, from), colour_of_batch(swatch, to), 0.0, 0.0, 0.0, {}, false, 0};
  drift.de00 = ciede2000(drift.from.lab, drift.to.lab);
  const double free = static_cast<double>(drift.from.readings + drift.to.readings) - 2.0;
  drift.noise = std::sqrt((scatter(readings_of(swatch, from)) + scatter(readings_of(swatch, to)) +
                           3.0 * kUsualWeight * kUsualNoise * kUsualNoise) /
                          (3.0 * (free + kUsualWeight)));
  const double steep = steepness(drift.from.lab, drift.to.lab);
  drift.uncertainty =
      steep * drift.noise * std::hypot(error_of(drift.from.readings), error_of(drift.to.readings));
  const double stop =
      std::min(limits.stop, std::max(limits.apart, 1.25 * limits.stop - kOneInHundred * drift.uncertainty));
  drift.verdict = drift.de00 >= stop           ? DriftVerdict::stop
                  : drift.de00 >= limits.apart ? DriftVerdict::keep_apart
                                               : DriftVerdict::same;
  drift.sure = std::min(drift.from.readings, drift.to.readings) >= kEnough &&
               distance_to_limits(drift.de00, limits) >= 2.0 * drift.uncertainty;
  if (!drift.sure) drift.readings = readings_wanted(drift, steep, limits);
  return drift;
}

}  // namespace kithue
