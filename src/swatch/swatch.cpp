// SPDX-License-Identifier: MIT
#include "swatch/swatch.h"

#include <algorithm>

#include "base/text.h"
#include "colour/difference.h"

namespace kithue {
namespace {

/// The middle value; the mean of the two middle ones for an even count, which for two is their mean.
double median(std::vector<double> values) {
  std::sort(values.begin(), values.end());
  const std::size_t half = values.size() / 2;
  if (values.size() % 2 == 1) return values[half];
  return (values[half - 1] + values[half]) / 2.0;
}

}  // namespace

std::string_view word_for(Kind kind) noexcept {
  switch (kind) {
    case Kind::stock:
      return "stock";
    case Kind::ink:
      return "ink";
    case Kind::other:
      return "other";
  }
  return "other";
}

std::optional<Kind> kind_from(std::string_view word) {
  for (const Kind kind : {Kind::stock, Kind::ink, Kind::other}) {
    if (word == word_for(kind)) return kind;
  }
  return std::nullopt;
}

std::string_view word_for(Dryness dryness) noexcept {
  switch (dryness) {
    case Dryness::dry:
      return "dry";
    case Dryness::wet:
      return "wet";
    case Dryness::unknown:
      return "";
  }
  return "";
}

std::optional<Dryness> dryness_from(std::string_view word) {
  for (const Dryness dryness : {Dryness::dry, Dryness::wet, Dryness::unknown}) {
    if (word == word_for(dryness)) return dryness;
  }
  return std::nullopt;
}

std::vector<const Reading*> own_readings(const Swatch& swatch) {
  std::vector<const Reading*> own;
  std::vector<const Reading*> all;
  for (const Reading& reading : swatch.readings) {
    all.push_back(&reading);
    if (reading.surface.empty() || reading.surface == swatch.surface ||
        folded(reading.surface) == folded(swatch.surface))
      own.push_back(&reading);
  }
  return own.empty() ? all : own;
}

std::optional<Lab> colour_of(const Swatch& swatch) {
  if (swatch.finish == Finish::unmeasurable || swatch.readings.empty()) return std::nullopt;
  if (swatch.readings.size() == 1) return swatch.readings.front().lab;
  std::vector<double> L;
  std::vector<double> a;
  std::vector<double> b;
  for (const Reading* reading : own_readings(swatch)) {
    L.push_back(reading->lab.L);
    a.push_back(reading->lab.a);
    b.push_back(reading->lab.b);
  }
  return Lab{median(std::move(L)), median(std::move(a)), median(std::move(b))};
}

double spread_of(const Swatch& swatch) {
  if (swatch.readings.size() < 2) return 0.0;
  const auto centre = colour_of(swatch);
  if (!centre) return 0.0;
  const std::vector<const Reading*> own = own_readings(swatch);
  double sum = 0.0;
  for (const Reading* reading : own) sum += ciede2000(*centre, reading->lab);
  return sum / static_cast<double>(own.size());
}

double uncertainty_of(const Swatch& swatch) {
  double most = spread_of(swatch);
  for (const Reading* reading : own_readings(swatch)) most = std::max(most, reading->error_de00);
  return most;
}

std::string id_text(const Swatch& swatch) {
  return "#" + std::to_string(swatch.id);
}

}  // namespace kithue
