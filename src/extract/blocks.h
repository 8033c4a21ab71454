// SPDX-License-Identifier: MIT
#pragma once

#include <cstdint>
#include <functional>
#include <vector>

#include "base/executor.h"
#include "colour/light_rows.h"
#include "extract/block_reading.h"
#include "extract/cells.h"

namespace kithue::extract {

/// How far the cuts of a thin colour are to be believed against its blocks.
struct CutTrust {
  double misfit = 0.0;   ///< of its lines, root mean square, of white
  bool between = false;  ///< most lie between two colours, so that other things are near their blocks
};

/// Sets a* and b* right by means over blocks of 16 x 16 pixels. JPEG with halved colour differences keeps
/// what is small or faint in colour only as part of the mean of a block, and rounds a plain block always the
/// same way; brightness it keeps sharp. So in blocks that hold two colours brightness says how much of each a
/// pixel has, and the block's mean colour difference, over many blocks, says which colours these are. A thin
/// colour whose blocks are few, and any whose blocks do not agree with one another, as other things lie in
/// them, stays as it is; thin ones go the further the worse the lines fitted their cuts (`cuts`).
/// `labels` as labels_of gives them; `gain` gives the light at a pixel as a part of the mean. The first
/// colours have plain places (`plain`); the large ones move by half a step of the coding at most.
void refine_by_blocks(const LightRows& picture, const Cells& cells, const std::vector<std::uint8_t>& labels,
                      const std::vector<ThinPlace>& thin, const std::vector<CutTrust>& cuts,
                      const PlainColours& plain, std::vector<Lab>& colours,
                      const std::function<double(double, double)>& gain, Executor& executor);

}  // namespace kithue::extract
