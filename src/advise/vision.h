// SPDX-License-Identifier: MIT
#pragma once

#include <array>
#include <cstddef>
#include <string_view>
#include <vector>

#include "colour/lab.h"
#include "swatch/stash.h"

namespace kithue {

/// A way of seeing without one kind of cone.
enum class Vision { protan, deutan, tritan };
inline constexpr std::array kVisions{Vision::protan, Vision::deutan, Vision::tritan};
std::string_view word_for(Vision vision) noexcept;  ///< "protan", "deutan", "tritan"

/// The colour as it is thought to look to someone without that cone (severity 1.0): a matrix on linear sRGB.
/// A screen's model, used for card as a guide. Greys stay as they are to 1e-5.
/// Source: Machado, Oliveira & Fernandes, "A Physiologically-based Model for Simulation of Color Vision
/// Deficiency", IEEE Trans. Vis. Comput. Graph. 15(6), 1291-1298 (2009), doi:10.1109/TVCG.2009.113,
/// as in colorspacious 1.1.2, which has them from the authors' page.
Lab seen_by(const Lab& lab, Vision vision) noexcept;

/// Two colours that part for most people but merge for some.
struct Merger {
  std::size_t a = 0;  ///< index into the colours given
  std::size_t b = 0;
  Vision vision = Vision::protan;
  double de00 = 0.0;  ///< for most people
  double de00_simulated = 0.0;
};

/// Over this apart for most ...
inline constexpr double kPartsForMost = 10.0;
/// ... and under this for some. Both dE00, common practice, no source.
inline constexpr double kMergesForSome = 5.0;

/// Every pair that parts for most and merges under one of the three, nearest under simulation first, ties in
/// the order given.
std::vector<Merger> mergers(const std::vector<NamedColour>& colours);

/// The WCAG contrast of two colours as seen by each of kVisions.
std::array<double, 3> contrasts_seen(const Lab& x, const Lab& y) noexcept;

}  // namespace kithue
