// SPDX-License-Identifier: MIT
#pragma once

#include <vector>

#include "base/executor.h"
#include "extract/cells.h"

namespace kithue::extract {

/// What some cells of a picture show, counted without regard to what lies beside them.
struct Census {
  std::vector<double> plain;  ///< a colour: the part of the cells, 0-1, that are near to it and to no other
  double strange = 0.0;       ///< the part of the cells that no two of the colours could mix to
};

/// Looks at one row in `step`.
Census census_of(const Cells& cells, int step, const std::vector<Lab>& colours, Executor& executor);

/// True when `rows`, single rows all over the picture, show a good deal that is strange and that the `cells`
/// which the colours were found in do not show: a stripe, or a motif that comes but once, was left out there.
bool shows_more(const Census& rows, const Census& cells) noexcept;

/// Sets shares right that were counted in a part of the picture: what comes back in steps of some hundred
/// rows is met too often or too seldom by runs of rows, but not by single rows all over it.
void set_right(std::vector<double>& shares, const Census& rows, const Census& cells);

}  // namespace kithue::extract
