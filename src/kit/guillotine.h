// SPDX-License-Identifier: MIT
#pragma once

#include <cstddef>
#include <cstdint>
#include <limits>
#include <vector>

namespace kithue {

// What the search for cutting plans works on: lengths are nanometres.

/// Pieces of one size, whatever they are called.
struct PieceKind {
  std::int64_t width = 0;
  std::int64_t height = 0;
  bool free = false;       ///< may lie either way
  std::int64_t count = 0;  ///< wanted
};

struct Extent {
  std::int64_t width = 0;
  std::int64_t height = 0;
};
inline double area_of(std::int64_t width, std::int64_t height) {
  return static_cast<double>(width) * static_cast<double>(height);
}

inline constexpr std::size_t kNoBlock = std::numeric_limits<std::size_t>::max();

/// A rectangle that holds pieces and comes apart with cuts from edge to edge: one piece, or two blocks beside
/// each other or one above the other. The smaller of the two leaves some of the rectangle empty.
struct CutBlock {
  std::int64_t width = 0;
  std::int64_t height = 0;
  std::size_t kind = 0;  ///< of a single piece
  bool turned = false;   ///< a single piece that lies on its side
  bool beside = false;   ///< the parts lie beside each other, else the second below the first
  std::size_t first = kNoBlock;
  std::size_t second = kNoBlock;
  int levels = 0;  ///< how often the direction of the cuts changes
};

/// Blocks are named by their index. Those that came to nothing stay: a plan is short-lived.
class Blocks {
 public:
  std::size_t piece(const PieceKind& kind, std::size_t index, bool turned);
  /// REQUIRES: blocks of this store. kNoBlock for one gives the other.
  std::size_t join(std::size_t first, std::size_t second, bool beside);
  [[nodiscard]] const CutBlock& operator[](std::size_t block) const { return blocks_[block]; }
  [[nodiscard]] bool is_piece(std::size_t block) const { return blocks_[block].first == kNoBlock; }
  [[nodiscard]] int levels_of(std::size_t first, std::size_t second, bool beside) const;

 private:
  std::vector<CutBlock> blocks_;
};

/// One way to cut a sheet.
struct Pattern {
  std::vector<std::int64_t> counts;  ///< of each kind
  std::size_t block = kNoBlock;
};

}  // namespace kithue
