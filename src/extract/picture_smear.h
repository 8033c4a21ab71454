// SPDX-License-Identifier: MIT
#pragma once

#include <vector>

#include "base/executor.h"
#include "extract/cells.h"
#include "extract/looks.h"
#include "extract/seek.h"
#include "extract/sharpness.h"

namespace kithue::extract {

inline constexpr double kDoubtedSmear = 1.6;  ///< pixels: a smear that may be something else
inline constexpr double kMuchSharper = 0.6;   ///< times the other smear

/// The smear of a picture by the edges between its known colours. Those of large plain places tell best, in a
/// blurred picture farther off. Without them those of strokes do, as far as the stroke is plain; and where
/// those are much sharper, outlines hide in the edges of the others.
EdgeSmears picture_smear(const Found& found, const Cells& cells, const std::vector<Lab>& known,
                         const Cutter& cutter, Executor& executor);

}  // namespace kithue::extract
