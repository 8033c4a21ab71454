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

constexpr double kOpaque = 0.5;  // cover from which an ink is called opaque

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

std::vector<OverprintReading> measured_overprints(Surfaces& surfaces, const Swatch& ink) {
  std::vector<OverprintReading> out;
  for (const Reading& reading : ink.readings) {
    if (on_own_surface(ink, reading)) continue;
    const auto& surface = surfaces.named(reading.surface);
    if (surface.stock != nullptr) out.push_back({surface.layer, reading.lab});
  }
  return out;
}

/// The ink's colour on every surface that any of its readings was made on.
std::vector<MeasuredPrint> measured_prints(const Swatch& ink) {
  const auto surface_of = [&](const Reading& reading) {
    return folded(reading.surface.empty() ? ink.surface : reading.surface);
  };
  std::vector<MeasuredPrint> prints;
  for (const Reading& first : ink.readings) {
    const std::string surface = surface_of(first);
    const bool seen = std::any_of(prints.begin(), prints.end(),
                                  [&](const MeasuredPrint& print) { return print.surface == surface; });
    if (surface.empty() || seen) continue;
    const Swatch here =
        with_readings(ink, [&](const Reading& reading) { return surface_of(reading) == surface; });
    if (const auto lab = colour_of(here)) prints.push_back({surface, *lab, uncertainty_of(here)});
  }
  return prints;
}

void set_paper(InkModel& model, Surfaces& surfaces, const InkOptions& options) {
  if (options.paper) {
    model.paper = layer_of(*options.paper);
    model.paper_name = options.paper->name;
    return;
  }
  if (model.swatch != nullptr) {
    const auto& surface = surfaces.named(model.swatch->surface);
    if (surface.stock != nullptr) {
      model.paper = surface.layer;
      model.paper_name = surface.stock->name;
      return;
    }
  }
  static const Layer kWhite = layer_of(kStatedWhite);
  model.paper = kWhite;
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

const Surfaces::Surface& Surfaces::named(const std::string& name) {
  const auto [at, is_new] = known_.try_emplace(name);
  if (!is_new || name.empty()) return at->second;
  const auto found = find_swatch(stash_, name);
  if (!found || (*found)->kind != Kind::stock) return at->second;
  const auto colour = named_colour_of(**found);
  if (colour) at->second = {*found, layer_of(*colour)};
  return at->second;
}

InkModel ink_model(const Stash& stash, const NamedColour& ink, const InkOptions& options) {
  Surfaces surfaces(stash);
  return ink_model(surfaces, ink, options);
}

InkModel ink_model(Surfaces& surfaces, const NamedColour& ink, const InkOptions& options) {
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
    model.prints = measured_prints(*ink.swatch);
  }
  model.ink = curve ? layer_of(own, *curve) : layer_of(own);
  set_paper(model, surfaces, options);
  if (options.cover) {
    model.manner.cover = *options.cover;
  } else if (ink.swatch != nullptr) {
    const auto readings = measured_overprints(surfaces, *ink.swatch);
    model.measured = readings.size();
    model.manner = fitted_manner(model.ink, model.paper, readings, model.manner);
  }
  model.manner.strength *= options.strength;
  model.impression = options.strength;
  model.inking = Inking(model.ink, model.paper, model.manner);
  return model;
}

std::optional<MeasuredPrint> InkModel::measured_on(const NamedColour& stock) const {
  if (impression != 1.0 || stock.swatch == nullptr || prints.empty()) return std::nullopt;
  const std::string surface = folded(stock.swatch->name);
  const auto found = std::find_if(prints.begin(), prints.end(),
                                  [&](const MeasuredPrint& print) { return print.surface == surface; });
  if (found == prints.end()) return std::nullopt;
  return *found;
}

InkOnStock ink_on_stock(const InkModel& ink, const NamedColour& stock) {
  return ink_on_stock(ink, stock, layer_of(stock));
}

InkOnStock ink_on_stock(const InkModel& ink, const NamedColour& stock, const Layer& stock_layer) {
  InkOnStock print;
  if (const auto measured = ink.measured_on(stock)) {
    print.lab = measured->lab;
    print.error = measured->uncertainty;
    print.estimated = false;
  } else {
    print.lab = ink.inking.on(stock_layer);
    print.error = std::hypot(overprint_error(ink.ink, ink.paper, stock_layer, ink.manner), ink.uncertainty,
                             stock.uncertainty);
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
  Surfaces surfaces(stash);
  std::vector<std::pair<double, LegibleChoice>> stocks;
  for (const Swatch& swatch : stash.swatches) {
    const auto colour = named_colour_of(swatch);
    if (!colour || swatch.retired || !swatch.in_stock) continue;
    if (swatch.kind == Kind::ink && &swatch != ink.swatch) {
      const InkModel other = ink_model(surfaces, *colour);
      const InkOnStock print = ink_on_stock(other, stock, stock_layer);
      if (print.reads == Reads::fine)
        out.inks.push_back({&swatch, print.contrast, other.manner.cover >= kOpaque});
    } else if (swatch.kind == Kind::stock && &swatch != stock.swatch) {
      const InkOnStock print = ink_on_stock(ink, *colour);
      if (print.reads == Reads::fine)
        stocks.push_back({ciede2000(colour->lab, stock.lab), {&swatch, print.contrast, false}});
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
