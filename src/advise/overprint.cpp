// SPDX-License-Identifier: MIT
#include "advise/overprint.h"

#include <algorithm>
#include <cmath>
#include <utility>

#include "colour/difference.h"

namespace kithue {
namespace {

constexpr double kMostOfDarkest = 0.8;  // the floor stays this far below every curve
constexpr double kMostSunk = 0.08;      // the loss on open paper is known up to this floor
constexpr double kLeastLight = 1e-5;

// The stated error, dE00. Base and step: tools/overprint_fit. The others: our own guess, no source.
constexpr double kErrorBase = 0.4;
constexpr double kErrorPerStep = 0.16;
constexpr double kErrorPerStrength = 0.1;
constexpr double kErrorOpaque = 1.5;
constexpr double kErrorPartCover = 0.25;

double darkest(const Curve& curve) {
  return *std::min_element(curve.begin(), curve.end());
}

double mean_red(const Curve& curve) {
  constexpr std::size_t kFrom = 22;  // 600 nm
  constexpr std::size_t kTo = 32;
  double sum = 0.0;
  for (std::size_t k = kFrom; k < kTo; ++k) sum += curve[k];
  return sum / static_cast<double>(kTo - kFrom);
}

/// 0-1: the share of the paper's red light that a layer takes.
double red_taken(const Layer& layer, const Layer& paper) {
  return std::max(0.0, 1.0 - layer.red / paper.red);
}

/// What is left of a reflectance above a floor, brought to 0-1.
double lifted(double R, double floor) {
  return std::max((R - floor) / (1.0 - floor), kLeastLight);
}

Layer with_sums(Layer layer) {
  layer.Y = xyz_from_curve(layer.curve).Y;
  layer.darkest = darkest(layer.curve);
  layer.red = mean_red(layer.curve);
  return layer;
}

}  // namespace

Layer layer_of(const Lab& lab) {
  Layer layer;
  layer.lab = lab;
  layer.curve = curve_from_lab(lab);
  return with_sums(layer);
}

Layer layer_of(const Lab& lab, const Curve& measured) {
  Layer layer;
  layer.lab = lab;
  layer.curve = measured;
  layer.measured = true;
  return with_sums(layer);
}

Inking::Inking(const Layer& ink, const Layer& paper, const InkManner& manner, const OverprintModel& model)
    : ink_(ink), paper_(paper), manner_(manner), model_(model) {
  const double own = std::max(0.0, model.floor_share * ink.darkest - model.floor_start);
  loss_share_ = (1.0 - red_taken(ink, paper)) * std::max(0.0, 1.0 - ink.Y / paper.Y);
  floor_ = std::min(own, kMostOfDarkest * std::min(ink.darkest, paper.darkest));
  density_ = density_above(floor_);
  const Lab drawn = lab_from_curve(ink.curve);
  lacking_ = {ink.lab.L - drawn.L, ink.lab.a - drawn.a, ink.lab.b - drawn.b};
}

Curve Inking::density_above(double floor) const {
  Curve density{};
  for (std::size_t k = 0; k < kBands; ++k) {
    density[k] =
        1.0 / std::sqrt(lifted(ink_.curve[k], floor)) - 1.0 / std::sqrt(lifted(paper_.curve[k], floor));
  }
  return density;
}

Lab Inking::on(const Layer& stock) const {
  if (manner_.strength == 1.0 && paper_.lab == stock.lab) return ink_.lab;
  const double red = red_taken(stock, paper_);
  const double dark = std::max(0.0, 1.0 - stock.Y / paper_.Y);
  const double loss = model_.trap_loss * red * red * loss_share_ +
                      model_.sink_loss * std::min(floor_, kMostSunk) * dark * dark;
  const double t = manner_.strength * std::max(0.0, 1.0 - loss);
  const double floor = std::min(floor_, kMostOfDarkest * stock.darkest);
  const Curve density = floor == floor_ ? density_ : density_above(floor);
  const double cover = manner_.cover;
  Curve curve{};
  for (std::size_t k = 0; k < kBands; ++k) {
    const double sum = std::max(1.0, 1.0 / std::sqrt(lifted(stock.curve[k], floor)) + t * density[k]);
    const double transparent = floor + (1.0 - floor) / (sum * sum);
    curve[k] = cover * ink_.curve[k] + (1.0 - cover) * transparent;
  }
  // A colour that no curve has (a bright ink, a fluorescent one) keeps what its curve lacks, as far as the
  // stock returns light.
  const Lab lab = lab_from_curve(curve);
  const double share = cover + (1.0 - cover) * std::min(1.0, stock.Y / paper_.Y);
  return {lab.L + share * lacking_.L, lab.a + share * lacking_.a, lab.b + share * lacking_.b};
}

Lab overprint_colour(const Layer& ink, const Layer& paper, const Layer& stock, const InkManner& manner,
                     const OverprintModel& model) {
  return Inking(ink, paper, manner, model).on(stock);
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
