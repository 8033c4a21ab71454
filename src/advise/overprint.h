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
///   1/sqrt(result) = 1/sqrt(s) + t (1/sqrt(i) - 1/sqrt(p)),
///   t = 1 - trap_loss * red(s)^2 * (1 - red(i)) * (1 - Y(i) / Y(p))
///         - sink_loss * min(floor, 0.08) * (1 - Y(s) / Y(p))^2,
/// where red() is the share of the paper's light from 600 to 690 nm that a layer takes; and the floor is put
/// back. It lies between the product of transmittances and the sum of 1/R; a fitted power comes out at 0.49.
///
/// t stands for trapping, ink taking less well on ink. Offset presses mostly print black and cyan, which take
/// the red, below magenta and yellow, so that is where the fitted prints show it. Whether a stamp on a dyed
/// stock loses the same is not known: no such prints are published. The second loss is that of open papers,
/// where the ink sinks in beside what is there already and returns light of its own; 0.08 is the greatest
/// floor of the fitted prints.
struct OverprintModel {
  double trap_loss = 0.570;
  double sink_loss = 4.40;
  double floor_share = 1.397;
  double floor_start = 0.0386;
  friend bool operator==(const OverprintModel&, const OverprintModel&) = default;
};

/// What is particular to one ink or one way of inking.
struct InkManner {
  double strength = 1.0;  ///< 1 = one full impression; 0.5 stamped off or a wash; 1.5 stamped twice
  double cover = 0.0;     ///< 0-1: the share that hides what lies below; 0 = transparent, 1 = opaque
};

/// A colour with its curve and what is often asked of it, made once and used many times.
struct Layer {
  Lab lab;
  Curve curve{};
  double Y = 0.0;
  double darkest = 0.0;   ///< least reflectance of any band
  double red = 0.0;       ///< mean reflectance, 600 to 690 nm
  bool measured = false;  ///< the curve is measured; else it is the smoothest one of that colour
};
Layer layer_of(const Lab& lab);
/// The same with a measured curve. REQUIRES: values above 0, at most 1.
Layer layer_of(const Lab& lab, const Curve& measured);

/// An ink on the paper of its reading, worked out once for many stocks.
class Inking {
 public:
  Inking() = default;
  Inking(const Layer& ink, const Layer& paper, const InkManner& manner = {},
         const OverprintModel& model = {});

  /// The colour of the ink on a stock. Deterministic; any finite colours. On the paper itself, with strength
  /// 1, it is the ink's own colour.
  [[nodiscard]] Lab on(const Layer& stock) const;

 private:
  [[nodiscard]] Curve density_above(double floor) const;

  Layer ink_;
  Layer paper_;
  InkManner manner_;
  OverprintModel model_;
  double loss_share_ = 0.0;  // of the trap loss, by the ink's own colour
  double floor_ = 0.0;       // on stocks that are not darker than this allows
  Curve density_{};          // above that floor: 1/sqrt(ink) - 1/sqrt(paper)
  Lab lacking_;              // the ink's colour less that of its curve
};

/// The colour of an ink on a stock, from the ink's colour on a paper: Inking for a single use.
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
