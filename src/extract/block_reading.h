// SPDX-License-Identifier: MIT
#pragma once

#include <array>
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

inline constexpr int kBrightnessBins = 288;  ///< a little past white
inline constexpr double kBrightnessBinsAUnit = 256.0;

/// One block: the mean colour differences, how many pixels are of one colour only, and how often each
/// brightness occurs in the others: before the middle of a line they are mixed of `first` and `second`, past
/// it of `second` and `third`, and away from it, where the sides differ, of `first` and `third`.
struct Block {
  std::uint8_t first = 0;
  std::uint8_t second = 0;
  std::uint8_t third = 0;
  std::array<std::array<std::uint16_t, kBrightnessBins>, 4> counts{};
  std::array<double, 3> pure{};  ///< pixels of plain places of each
  std::array<double, 2> mean{};  ///< Cb', Cr'
  int low = kBrightnessBins;
  int high = 0;
};

/// The blocks that hold a line and what is beside it and nothing else, and some of those on the edge between
/// two plain colours, spread over the picture. `labels` as labels_of gives them; `gain` gives the light at a
/// pixel as a part of the mean.
std::vector<Block> read_blocks(const LightRows& picture, const Cells& cells,
                               const std::vector<std::uint8_t>& labels, const std::vector<ThinPlace>& thin,
                               const PlainColours& plain, const std::function<double(double, double)>& gain,
                               Executor& executor);

}  // namespace kithue::extract
