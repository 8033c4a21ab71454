// SPDX-License-Identifier: MIT
#pragma once

#include <span>
#include <vector>

#include "colour/lab.h"
#include "colour/reflectance.h"

namespace kithue {

/// The numbers of the model, fitted by tools/overprint_fit.
///
/// With reflectance curves p (paper), i (the ink on that paper) and s (stock), band by band: a floor of light
/// that the ink itself returns, min(floor_share * darkest(i) - floor_start, 0.8 * darkest of the three), is
/// taken off and the rest brought to 0-1; then
///   f(R) = (R^-power - 1) / power,   f(result) = f(s) + t (f(i) - f(p)),   t = 1 - trap_loss * dark,
/// where dark = 1 - Y(s) / Y(p); and the floor is put back. power 0 would be plain multiplication of
/// transmittances, power 1 the sum of 1/R.
struct OverprintModel {
  double power = 0.272;
  double trap_loss = 0.277;
  double floor_share = 1.05;
  double floor_start = 0.0162;
  friend bool operator==(const OverprintModel&, const OverprintModel&) = default;
};

/// What is particular to one ink or one way of inking.
struct InkManner {
  double strength = 1.0;  ///< 1 = one full impression; 0.5 stamped off or a wash; 1.5 stamped twice
  double cover = 0.0;     ///< 0-1: the share that hides what lies below; 0 = transparent, 1 = opaque
};

/// A colour with its curve, made once and used many times.
struct Layer {
  Lab lab;
  Curve curve{};
  double Y = 0.0;
  bool measured = false;  ///< the curve is measured; else it is the smoothest one of that colour
};
Layer layer_of(const Lab& lab);
/// The same with a measured curve. REQUIRES: values above 0, at most 1.
Layer layer_of(const Lab& lab, const Curve& measured);

/// The colour of an ink on a stock, from the ink's colour on a paper. Deterministic; any finite colours.
/// On the paper itself, with strength 1, it is the ink's own colour.
Lab overprint_colour(const Layer& ink, const Layer& paper, const Layer& stock, const InkManner& manner = {},
                     const OverprintModel& model = {});

/// Half-width of the band, dE00, in which the truth lies in 90 % of cases on papers the model was not fitted
/// on (tools/overprint_fit prints the check). It grows with how far the stock is from the paper of the ink's
/// reading, and with what is not known of a thinned or half-opaque ink.
double overprint_error(const Layer& ink, const Layer& paper, const Layer& stock,
                       const InkManner& manner = {});

/// One measured overprint: the stock, and the colour of the ink on it.
struct OverprintReading {
  Layer stock;
  Lab measured;
};

/// The manner of an ink that fits its measured overprints best, held near `start` when there are few.
/// Nothing measured gives `start` back.
InkManner fitted_manner(const Layer& ink, const Layer& paper, std::span<const OverprintReading> readings,
                        const InkManner& start, const OverprintModel& model = {});

}  // namespace kithue
