// SPDX-License-Identifier: MIT
#pragma once

#include <array>
#include <cstdint>
#include <vector>

#include "extract/small_picture.h"

namespace kithue::extract {

/// Sides of a frame, in this order everywhere.
enum class Side : std::uint8_t { left, top, right, bottom };

/// What a place may be when seen from the frame's edge; `unknown` until it is looked at.
enum class Likeness : std::uint8_t { unknown, other, surround, shaded };

/// The colours that lie along the edge of the frame, and where else in the picture they are. Not to be shared
/// between threads; `small` must outlive it.
class Surround {
 public:
  /// Looks along the sides that are asked for.
  Surround(const SmallPicture& small, const std::array<bool, 4>& sides);
  /// False when the edge has too many colours to be a table or a border.
  [[nodiscard]] bool plain() const noexcept { return plain_; }
  [[nodiscard]] Likeness at(int x, int y) const noexcept { return at(small_.index(x, y)); }
  /// `place`: an index of the small picture.
  [[nodiscard]] Likeness at(std::size_t place) const noexcept {
    Likeness& seen = map_[place];
    if (seen == Likeness::unknown) seen = likeness(small_.places[place]);
    return seen;
  }

 private:
  struct Colour {
    Lab lab;
    int count;
  };
  [[nodiscard]] Likeness likeness(const Lab& lab) const noexcept;
  const SmallPicture& small_;
  bool plain_ = false;
  std::vector<Colour> colours_;
  mutable std::vector<Likeness> map_;  // filled as it is looked at
};

}  // namespace kithue::extract
