// SPDX-License-Identifier: MIT
#include "advise/ink_on_stock.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <string_view>
#include <utility>

#include "advise/match.h"
#include "base/text.h"
#include "colour/difference.h"

namespace kithue {
namespace {

bool on_own_surface(const Swatch& ink, const Reading& reading) {
  return reading.surface.empty() || folded(reading.surface) == folded(ink.surface);
}

/// The ink with only those of its readings that pass.
template <typename Test>
Swatch with_readings(const Swatch& ink, Test test) {
  Swatch part = ink;
  std::erase_if(part.readings, [&](const Reading& reading) { return !test(reading); });
  return part;
}

double cover_by_method(const Swatch& ink) {
  struct Row {
    std::string_view word;
    double cover;
  };
  constexpr std::array<Row, 5> kRows{
      {{"powder", 0.95}, {"embossing", 0.95}, {"opaque", 0.95}, {"paint", 0.8}, {"pigment", 0.7}}};
  const std::string method = folded(ink.method);
  for (const Row& row : kRows) {
    if (method.find(row.word) != std::string::npos) return row.cover;
  }
  return 0.0;
}

/// A stock of that very name; spelling forgiven, nothing guessed.
const Swatch* stock_named(const Stash& stash, const std::string& name) {
  if (name.empty()) return nullptr;
  const auto found = find_swatch(stash, name);
  if (!found || (*found)->kind != Kind::stock || !colour_of(**found)) return nullptr;
  return *found;
}

/// A spectrum at one wavelength: straight lines between its bands, the ends held.
double reflectance_at(const Reading& reading, double nm) {
  const double at = (nm - reading.start_nm) / reading.step_nm;
  const auto last = reading.spectrum.size() - 1;
  if (at <= 0.0) return reading.spectrum.front();
  if (at >= static_cast<double>(last)) return reading.spectrum.back();
  const auto i = static_cast<std::size_t>(at);
  const double part = at - static_cast<double>(i);
  return (1.0 - part) * reading.spectrum[i] + part * reading.spectrum[i + 1];
}

bool covers_visible(const Reading& reading) {
  if (reading.spectrum.size() < 2 || !(reading.step_nm > 0.0) || reading.step_nm > 20.0) return false;
  const double end = reading.start_nm + reading.step_nm * static_cast<double>(reading.spectrum.size() - 1);
  return reading.start_nm <= 400.0 && end >= 700.0;
}

std::vector<OverprintReading> measured_overprints(const Stash& stash, const Swatch& ink) {
  std::vector<OverprintReading> out;
  for (const Reading& reading : ink.readings) {
    if (on_own_surface(ink, reading)) continue;
    if (const Swatch* stock = stock_named(stash, reading.surface)) {
      out.push_back({layer_of(*named_colour_of(*stock)), reading.lab});
    }
  }
  return out;
}

void set_paper(InkModel& model, const Stash& stash, const InkOptions& options) {
  if (options.paper) {
    model.paper = layer_of(*options.paper);
    model.paper_name = options.paper->name;
    return;
  }
  const Swatch* surface = model.swatch != nullptr ? stock_named(stash, model.swatch->surface) : nullptr;
  if (surface != nullptr) {
    model.paper = layer_of(*named_colour_of(*surface));
    model.paper_name = surface->name;
    return;
  }
  model.paper = layer_of(kStatedWhite);
  model.paper_name = "white card";
  model.paper_known = false;
}

/// The colour at the end of the band that is nearer to the stock in lightness.
Lab at_worst(const InkOnStock& print, const Lab& stock) {
  const double SL = ciede2000_terms(print.lab, stock).SL;
  const double towards = print.error * SL;
  const double gap = stock.L - print.lab.L;
  return {print.lab.L + std::copysign(std::min(towards, std::fabs(gap)), gap), print.lab.a, print.lab.b};
}

}  // namespace

std::optional<Curve> measured_curve(const Swatch& swatch) {
  constexpr double kLeast = 1e-4;
  Curve sum{};
  double count = 0.0;
  for (const Reading* reading : own_readings(swatch)) {
    if (!covers_visible(*reading)) continue;
    for (std::size_t k = 0; k < kBands; ++k)
      sum[k] += reflectance_at(*reading, 380.0 + 10.0 * static_cast<double>(k));
    count += 1.0;
  }
  if (count == 0.0) return std::nullopt;
  for (double& value : sum) value = std::clamp(value / count, kLeast, 1.0);
  return sum;
}

Layer layer_of(const NamedColour& colour) {
  const auto curve = colour.swatch != nullptr ? measured_curve(*colour.swatch) : std::nullopt;
  return curve ? layer_of(colour.lab, *curve) : layer_of(colour.lab);
}

InkModel ink_model(const Stash& stash, const NamedColour& ink, const InkOptions& options) {
  InkModel model;
  model.name = ink.name;
  model.swatch = ink.swatch;
  model.uncertainty = ink.uncertainty;
  Lab own = ink.lab;
  std::optional<Curve> curve;
  if (ink.swatch != nullptr) {
    const Swatch base = with_readings(
        *ink.swatch, [&](const Reading& reading) { return on_own_surface(*ink.swatch, reading); });
    if (const auto lab = colour_of(base)) {
      own = *lab;
      curve = measured_curve(base);
      model.uncertainty = uncertainty_of(base);
    }
    model.manner.cover = cover_by_method(*ink.swatch);
  }
  model.ink = curve ? layer_of(own, *curve) : layer_of(own);
  set_paper(model, stash, options);
  if (options.cover) {
    model.manner.cover = *options.cover;
  } else if (ink.swatch != nullptr) {
    const auto readings = measured_overprints(stash, *ink.swatch);
    model.measured = readings.size();
    model.manner = fitted_manner(model.ink, model.paper, readings, model.manner);
  }
  model.manner.strength *= options.strength;
  model.impression = options.strength;
  return model;
}

InkOnStock ink_on_stock(const InkModel& ink, const NamedColour& stock) {
  return ink_on_stock(ink, stock, layer_of(stock));
}

InkOnStock ink_on_stock(const InkModel& ink, const NamedColour& stock, const Layer& stock_layer) {
  InkOnStock print;
  std::optional<Lab> measured;
  if (ink.impression == 1.0 && ink.swatch != nullptr && stock.swatch != nullptr) {
    const std::string name = folded(stock.swatch->name);
    const Swatch here = with_readings(*ink.swatch, [&](const Reading& reading) {
      return folded(reading.surface.empty() ? ink.swatch->surface : reading.surface) == name;
    });
    measured = colour_of(here);
    if (measured) print.error = uncertainty_of(here);
  }
  if (measured) {
    print.lab = *measured;
    print.estimated = false;
  } else {
    print.lab = overprint_colour(ink.ink, ink.paper, stock_layer, ink.manner);
    print.error = std::hypot(overprint_error(ink.ink, ink.paper, stock_layer, ink.manner), ink.uncertainty);
  }
  print.contrast = contrast_ratio(print.lab, stock.lab);
  print.reads = reads_on(print.lab, stock.lab);
  print.reads_at_worst = reads_on(at_worst(print, stock.lab), stock.lab);
  return print;
}

LegibleInstead legible_instead(const Stash& stash, const InkModel& ink, const NamedColour& stock,
                               std::size_t count) {
  LegibleInstead out;
  const Layer stock_layer = layer_of(stock);
  std::vector<std::pair<double, LegibleChoice>> stocks;
  for (const Swatch& swatch : stash.swatches) {
    const auto colour = named_colour_of(swatch);
    if (!colour || swatch.retired || !swatch.in_stock) continue;
    if (swatch.kind == Kind::ink && &swatch != ink.swatch) {
      const InkOnStock print = ink_on_stock(ink_model(stash, *colour), stock, stock_layer);
      if (print.reads == Reads::fine) out.inks.push_back({&swatch, print.contrast});
    } else if (swatch.kind == Kind::stock && &swatch != stock.swatch) {
      const InkOnStock print = ink_on_stock(ink, *colour);
      if (print.reads == Reads::fine)
        stocks.push_back({ciede2000(colour->lab, stock.lab), {&swatch, print.contrast}});
    }
  }
  const auto by_name = [](const LegibleChoice& x, const LegibleChoice& y) {
    return x.swatch->name != y.swatch->name ? x.swatch->name < y.swatch->name : x.swatch->id < y.swatch->id;
  };
  std::sort(out.inks.begin(), out.inks.end(), [&](const LegibleChoice& x, const LegibleChoice& y) {
    return x.contrast != y.contrast ? x.contrast > y.contrast : by_name(x, y);
  });
  std::sort(stocks.begin(), stocks.end(), [&](const auto& x, const auto& y) {
    return x.first != y.first ? x.first < y.first : by_name(x.second, y.second);
  });
  if (out.inks.size() > count) out.inks.resize(count);
  for (std::size_t i = 0; i < std::min(count, stocks.size()); ++i) out.stocks.push_back(stocks[i].second);
  return out;
}

}  // namespace kithue
