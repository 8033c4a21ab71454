// SPDX-License-Identifier: MIT
#pragma once

#include <cstdint>
#include <functional>
#include <vector>

#include "base/executor.h"
#include "colour/light_rows.h"
#include "extract/cells.h"
#include "extract/cut.h"

namespace kithue::extract {

/// A place where a thin colour was seen: all numbers are places in the list of colours.
struct ThinPlace {
  LinePlace line;
  double middle = 0.0;             ///< of the line, pixels across it from line.x, line.y
  double reach = 0.0;              ///< pixels from there to where its smear ends
  std::array<double, 2> across{};  ///< unit vector from the left to the right side
  std::uint8_t left = 0;
  std::uint8_t thin = 0;
  std::uint8_t right = 0;
};

/// How far the cuts of a thin colour are to be believed against its blocks.
struct CutTrust {
  double misfit = 0.0;   ///< of its lines, root mean square, of white
  bool between = false;  ///< most lie between two colours, so that other things are near their blocks
};

/// Which of the colours have plain places.
struct PlainColours {
  std::size_t sure = 0;    ///< so many from the first have large ones
  std::size_t all = 0;     ///< so many from the first have any
  std::vector<bool> told;  ///< of each colour: what it is was told otherwise, and it stays
};

inline constexpr int kBlockSide = 16;  ///< pixels of a block: 8 x 8 halved colour differences

/// What the pixel at `place` of a row or column of a block counts, so that the mean is that of the block's
/// own stored samples. Decoders give each pixel 3/4 of the nearer sample and 1/4 of the next (as libjpeg
/// does): the outermost pixels have a part of the next block. REQUIRES: 0 <= place < kBlockSide.
double sample_weight(int place, int pixels_a_sample) noexcept;

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
