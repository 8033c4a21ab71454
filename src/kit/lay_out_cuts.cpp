// SPDX-License-Identifier: MIT
#include "kit/lay_out_cuts.h"

#include <algorithm>
#include <deque>

namespace kithue {
namespace {

std::size_t kept_part(Blocks& blocks, std::size_t block, std::vector<std::int64_t>& keep) {
  const CutBlock one = blocks[block];
  if (blocks.is_piece(block)) {
    if (keep[one.kind] == 0) return kNoBlock;
    --keep[one.kind];
    return block;
  }
  const std::size_t first = kept_part(blocks, one.first, keep);
  const std::size_t second = kept_part(blocks, one.second, keep);
  if (first == one.first && second == one.second) return block;
  return blocks.join(first, second, one.beside);
}

Rectangle rectangle(std::int64_t x, std::int64_t y, std::int64_t width, std::int64_t height) {
  return {{x}, {y}, {{width}, {height}}};
}

class Layout {
 public:
  Layout(const Blocks& blocks, const Extent& sheet) : blocks_(blocks), sheet_(sheet) {}

  SheetPlan run(std::size_t block) {
    // First in, first out: all strips are cut before the first of them is cut up.
    waiting_.push_back({block, rectangle(0, 0, sheet_.width, sheet_.height)});
    while (!waiting_.empty()) {
      const Part part = waiting_.front();
      waiting_.pop_front();
      cut_up(part);
    }
    std::stable_sort(plan_.left.begin(), plan_.left.end(), [](const Rectangle& x, const Rectangle& y) {
      return area_of(x.size.width.nm, x.size.height.nm) > area_of(y.size.width.nm, y.size.height.nm);
    });
    return std::move(plan_);
  }

 private:
  struct Part {
    std::size_t block = 0;
    Rectangle at;
  };

  /// Cuts off the first `length` of the part along a direction and gives it; the part keeps the rest.
  Rectangle cut_off(Rectangle& part, bool upright, std::int64_t length) {
    Rectangle off = part;
    (upright ? off.size.width : off.size.height).nm = length;
    Length& at = upright ? part.x : part.y;
    at.nm += length;
    plan_.cuts.push_back({{}, upright, at, step_});
    plan_.cuts.back().part = part;
    Rectangle& under = plan_.cuts.back().part;
    (upright ? under.x : under.y) = upright ? off.x : off.y;
    (upright ? part.size.width : part.size.height).nm -= length;
    return off;
  }

  /// Trims the part to the block, with the direction first that keeps the largest offcut whole.
  void trim(Rectangle& part, const CutBlock& block, bool width, bool height) {
    const std::int64_t right = part.size.width.nm - block.width;
    const std::int64_t below = part.size.height.nm - block.height;
    width = width && right > 0;
    height = height && below > 0;
    const bool right_first =
        !height || (width && area_of(right, part.size.height.nm) >= area_of(part.size.width.nm, below));
    for (const bool upright : {right_first, !right_first}) {
      if (!(upright ? width : height)) continue;
      ++step_;
      const Rectangle kept = cut_off(part, upright, upright ? block.width : block.height);
      plan_.left.push_back(part);
      part = kept;
    }
  }

  /// The parts of a row of blocks that lie the same way.
  void add_row(std::size_t block, bool beside, std::vector<std::size_t>& row) const {
    if (blocks_.is_piece(block) || blocks_[block].beside != beside) return row.push_back(block);
    add_row(blocks_[block].first, beside, row);
    add_row(blocks_[block].second, beside, row);
  }

  void cut_up(const Part& given) {
    const CutBlock& block = blocks_[given.block];
    Rectangle rest = given.at;
    if (blocks_.is_piece(given.block)) {
      trim(rest, block, true, true);
      plan_.pieces.push_back({block.kind, rest, false});
      return;
    }
    std::vector<std::size_t> row;
    add_row(given.block, block.beside, row);
    trim(rest, block, true, true);
    ++step_;
    for (std::size_t i = 0; i < row.size(); ++i) {
      const CutBlock& part = blocks_[row[i]];
      if (i + 1 == row.size())
        waiting_.push_back({row[i], rest});
      else
        waiting_.push_back({row[i], cut_off(rest, block.beside, block.beside ? part.width : part.height)});
    }
  }

  const Blocks& blocks_;
  Extent sheet_;
  std::deque<Part> waiting_;
  SheetPlan plan_;
  int step_ = 0;
};

}  // namespace

std::size_t without_surplus(Blocks& blocks, std::size_t block, std::vector<std::int64_t> keep) {
  return kept_part(blocks, block, keep);
}

SheetPlan lay_out_cuts(const Blocks& blocks, std::size_t block, const Extent& sheet) {
  return Layout(blocks, sheet).run(block);
}

}  // namespace kithue
