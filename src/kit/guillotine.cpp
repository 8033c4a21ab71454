// SPDX-License-Identifier: MIT
#include "kit/guillotine.h"

#include <algorithm>

namespace kithue {

std::size_t Blocks::piece(const PieceKind& kind, std::size_t index, bool turned) {
  CutBlock block;
  block.width = turned ? kind.height : kind.width;
  block.height = turned ? kind.width : kind.height;
  block.kind = index;
  block.turned = turned;
  blocks_.push_back(block);
  return blocks_.size() - 1;
}

int Blocks::levels_of(std::size_t first, std::size_t second, bool beside) const {
  const auto within = [&](std::size_t part) {
    const CutBlock& block = blocks_[part];
    return block.first == kNoBlock || block.beside != beside ? block.levels + 1 : block.levels;
  };
  return std::max(within(first), within(second));
}

std::size_t Blocks::join(std::size_t first, std::size_t second, bool beside) {
  if (first == kNoBlock) return second;
  if (second == kNoBlock) return first;
  const CutBlock& a = blocks_[first];
  const CutBlock& b = blocks_[second];
  CutBlock block;
  block.width = beside ? a.width + b.width : std::max(a.width, b.width);
  block.height = beside ? std::max(a.height, b.height) : a.height + b.height;
  block.beside = beside;
  block.first = first;
  block.second = second;
  block.levels = levels_of(first, second, beside);
  blocks_.push_back(block);
  return blocks_.size() - 1;
}

}  // namespace kithue
