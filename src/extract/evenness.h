// SPDX-License-Identifier: MIT
#pragma once

#include <array>

#include "base/executor.h"
#include "extract/cells.h"
#include "extract/flat.h"

namespace kithue::extract {

/// How the light falls over the frame: a smooth surface of second degree, whose mean over the frame is 1.
/// The level itself cannot be known from one photo without a reference: colours come out as they look at the
/// mean light of the frame.
struct Evenness {
  std::array<double, 5> slope{};  ///< of u, v, u^2 - 1/3, v^2 - 1/3, uv in the logarithm of the light
  double level = 0.0;             ///< added to the logarithm, so that the mean of the light is 1
  double spread = 0.0;            ///< half of the range between the lightest and the darkest place, as a part
  bool supported = false;         ///< enough places of one colour were seen to say so, and it is not so much
                                  ///< (over 35 % more or less) that it may be the drawing itself
  double tint = 0.0;  ///< how far the light's own colour drifts from its mean over the frame, at most:
                      ///< on a light grey, in a* and b*; 0 where nothing says so
  /// Light at x, y: 0 to 1 across and down.
  [[nodiscard]] double at(double x, double y) const noexcept;
};

/// Finds it from how one and the same colour changes between neighbouring parts of the picture: steps
/// between different colours never count.
Evenness evenness_of(const Cells& cells, const FlatTest& flat, Executor& executor);

/// Takes the light out of the cells.
void even_out(Cells& cells, const Evenness& evenness, Executor& executor);

}  // namespace kithue::extract
