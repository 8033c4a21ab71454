// SPDX-License-Identifier: MIT
#include "advise/overprint.h"

#include <algorithm>
#include <cmath>
#include <utility>

#include "colour/difference.h"

namespace kithue {
namespace {

constexpr double kMostOfDarkest = 0.8;  // the floor stays this far below every curve
constexpr double kLeastLight = 1e-5;

// The stated error, dE00. Base and step: tools/overprint_fit. The others: our own guess, no source.
constexpr double kErrorBase = 0.5;
constexpr double kErrorPerStep = 0.165;
constexpr double kErrorPerStrength = 0.1;
constexpr double kErrorOpaque = 1.5;
constexpr double kErrorPartCover = 0.25;

double darkest(const Curve& curve) {
  return *std::min_element(curve.begin(), curve.end());
}

/// f(R) = (R^-power - 1) / power, and back.
struct Density {
  double power;
  [[nodiscard]] double of(double R) const { return (std::pow(R, -power) - 1.0) / power; }
  [[nodiscard]] double light(double f) const {
    return std::pow(std::max(1.0 + f * power, kLeastLight), -1.0 / power);
  }
};

double floor_of(const Layer& ink, const Layer& paper, const Layer& stock, const OverprintModel& model) {
  const double ink_darkest = darkest(ink.curve);
  const double own = std::max(0.0, model.floor_share * ink_darkest - model.floor_start);
  return std::min(own, kMostOfDarkest * std::min({ink_darkest, darkest(paper.curve), darkest(stock.curve)}));
}

}  // namespace

Layer layer_of(const Lab& lab) {
  Layer layer{lab, curve_from_lab(lab), 0.0};
  layer.Y = xyz_from_curve(layer.curve).Y;
  return layer;
}

Layer layer_of(const Lab& lab, const Curve& measured) {
  return {lab, measured, xyz_from_curve(measured).Y, true};
}

Lab overprint_colour(const Layer& ink, const Layer& paper, const Layer& stock, const InkManner& manner,
                     const OverprintModel& model) {
  if (manner.strength == 1.0 && paper.lab == stock.lab) return ink.lab;
  const double floor = floor_of(ink, paper, stock, model);
  const double dark = std::max(0.0, 1.0 - stock.Y / paper.Y);
  const double t = manner.strength * std::max(0.0, 1.0 - model.trap_loss * dark);
  const Density density{model.power};
  Curve curve{};
  for (std::size_t k = 0; k < kBands; ++k) {
    const auto lifted = [&](double R) { return std::max((R - floor) / (1.0 - floor), kLeastLight); };
    const double on_paper = density.of(lifted(ink.curve[k])) - density.of(lifted(paper.curve[k]));
    const double through = density.light(density.of(lifted(stock.curve[k])) + t * on_paper);
    const double transparent = floor + (1.0 - floor) * std::min(through, 1.0);
    curve[k] = manner.cover * ink.curve[k] + (1.0 - manner.cover) * transparent;
  }
  // A colour that no curve has (a bright ink, a fluorescent one) keeps what its curve lacks, as far as the
  // stock returns light.
  const Lab lab = lab_from_curve(curve);
  const Lab drawn = lab_from_curve(ink.curve);
  const double share = manner.cover + (1.0 - manner.cover) * std::min(1.0, stock.Y / paper.Y);
  return {lab.L + share * (ink.lab.L - drawn.L), lab.a + share * (ink.lab.a - drawn.a),
          lab.b + share * (ink.lab.b - drawn.b)};
}

double overprint_error(const Layer& ink, const Layer& paper, const Layer& stock, const InkManner& manner) {
  // Transparent: by how far the stock is from the paper, from the held-out errors that tools/overprint_fit
  // prints. What hides the stock hides that error too, but its cover is only a word for a measurement.
  const double transparent = kErrorBase + kErrorPerStep * ciede2000(stock.lab, paper.lab);
  const double thinned = kErrorPerStrength * std::fabs(manner.strength - 1.0) * ciede2000(ink.lab, paper.lab);
  const double cover = manner.cover;
  return (1.0 - cover) * (transparent + thinned) +
         cover * (kErrorOpaque + kErrorPartCover * (1.0 - cover) * ciede2000(ink.lab, stock.lab));
}

InkManner fitted_manner(const Layer& ink, const Layer& paper, std::span<const OverprintReading> readings,
                        const InkManner& start, const OverprintModel& model) {
  if (readings.empty()) return start;
  // Squared errors against squared steps away from the start, each in units of what is usual.
  constexpr double kUsualError = 3.0;
  constexpr double kUsualStrength = 0.3;
  constexpr double kUsualCover = 0.2;
  const auto cost = [&](const InkManner& manner) {
    double sum = std::pow((manner.strength - start.strength) / kUsualStrength, 2) +
                 std::pow((manner.cover - start.cover) / kUsualCover, 2);
    for (const OverprintReading& reading : readings) {
      const Lab predicted = overprint_colour(ink, paper, reading.stock, manner, model);
      sum += std::pow(ciede2000(predicted, reading.measured) / kUsualError, 2);
    }
    return sum;
  };
  InkManner best = start;
  double least = cost(best);
  for (double step = 0.16; step > 0.002; step /= 2.0) {
    for (bool moved = true; moved;) {
      moved = false;
      for (const auto& [ds, dc] : {std::pair{step, 0.0}, {-step, 0.0}, {0.0, step}, {0.0, -step}}) {
        const InkManner next{std::clamp(best.strength + ds, 0.1, 3.0), std::clamp(best.cover + dc, 0.0, 1.0)};
        const double value = cost(next);
        if (value < least - 1e-12) {
          least = value;
          best = next;
          moved = true;
        }
      }
    }
  }
  return best;
}

}  // namespace kithue
