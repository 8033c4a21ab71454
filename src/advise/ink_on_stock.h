// SPDX-License-Identifier: MIT
#pragma once

#include <map>
#include <optional>
#include <string>
#include <vector>

#include "advise/legibility.h"
#include "advise/overprint.h"
#include "swatch/stash.h"

namespace kithue {

/// The white that stands for an ink's paper when nothing else is known: CIELAB 95, 0, -2.
/// Source: ISO 12647-2:2004, paper types 1 and 2 on white backing.
inline constexpr Lab kStatedWhite{95.0, 0.0, -2.0};

/// The mean reflectance of the readings that make a swatch's colour and have a spectrum, on the bands of
/// Curve, straight lines between and the ends held. Nothing unless one reaches from 400 to 700 nm in steps of
/// 20 nm or less.
std::optional<Curve> measured_curve(const Swatch& swatch);

/// With the measured curve of the swatch where it has one.
Layer layer_of(const NamedColour& colour);

/// The papers that inks were read on, each looked up and worked out once. For one stash, which it must not
/// outlive; not for two threads at once.
class Surfaces {
 public:
  explicit Surfaces(const Stash& stash) : stash_(stash) {}

  struct Surface {
    const Swatch* stock = nullptr;  ///< null: no stock of that name, or one without a number
    Layer layer;
  };
  /// The stock of that very name; spelling forgiven, nothing guessed.
  const Surface& named(const std::string& name);

 private:
  const Stash& stash_;
  std::map<std::string, Surface> known_;
};

/// The ink as measured on one surface.
struct MeasuredPrint {
  std::string surface;  ///< folded
  Lab lab;
  double uncertainty = 0.0;  ///< dE00
};

/// An ink ready for predictions.
struct InkModel {
  std::string name;
  Layer ink;  ///< its colour on `paper`
  Layer paper;
  std::string paper_name;   ///< "Sailcloth", or "white card" for kStatedWhite
  bool paper_known = true;  ///< false: kStatedWhite was taken
  InkManner manner;         ///< with the strength of this impression
  Inking inking;            ///< all of these together
  std::vector<MeasuredPrint> prints;
  double impression = 1.0;   ///< InkOptions::strength
  std::size_t measured = 0;  ///< overprint readings that corrected `manner`
  double uncertainty = 0.0;  ///< dE00 of the ink's own colour
  const Swatch* swatch = nullptr;

  /// A reading of this ink on this stock wins over any prediction, at strength 1.
  [[nodiscard]] std::optional<MeasuredPrint> measured_on(const NamedColour& stock) const;
};

struct InkOptions {
  std::optional<NamedColour> paper;  ///< the paper of the ink's reading, when the user says so
  std::optional<double> cover;       ///< instead of what the method suggests
  double strength = 1.0;             ///< of this impression: 0.5 stamped off, 1.5 stamped twice
};

/// The ink's readings on its own surface make its colour there; readings on other surfaces that are stocks of
/// the stash are measured overprints and correct the manner. A literal is an ink on the stated white.
/// Cover by method, common practice, no source: embossing powder and opaque inks 0.95, paint 0.8, pigment
/// 0.7, all others 0.
InkModel ink_model(Surfaces& surfaces, const NamedColour& ink, const InkOptions& options = {});
/// For one ink only: its surfaces are looked up for this call.
InkModel ink_model(const Stash& stash, const NamedColour& ink, const InkOptions& options = {});

/// The colour of an ink on a stock, and what it can be used for.
struct InkOnStock {
  Lab lab;
  bool estimated = true;  ///< false: measured on that stock
  double error = 0.0;     ///< half-width, dE00: holds in 90 % of cases for an estimate
  double contrast = 1.0;  ///< WCAG 2 ratio against the stock
  Reads reads = Reads::no;
  Reads reads_at_worst = Reads::no;  ///< with the lightness off by the error, towards the stock
};

/// What was measured on this stock, else the prediction.
InkOnStock ink_on_stock(const InkModel& ink, const NamedColour& stock);
/// The same with the stock's curve at hand, for tables.
InkOnStock ink_on_stock(const InkModel& ink, const NamedColour& stock, const Layer& stock_layer);

/// One thing that would read where this ink does not.
struct LegibleChoice {
  const Swatch* swatch = nullptr;
  double contrast = 1.0;
  bool opaque = false;  ///< an ink that hides the stock
};
struct LegibleInstead {
  std::vector<LegibleChoice> inks;    ///< owned, in stock, reading fine on this stock, best contrast first
  std::vector<LegibleChoice> stocks;  ///< owned, in stock, on which this ink reads fine, nearest colour first
};
/// At most `count` of each. Estimates like any other.
LegibleInstead legible_instead(const Stash& stash, const InkModel& ink, const NamedColour& stock,
                               std::size_t count = 3);

}  // namespace kithue
