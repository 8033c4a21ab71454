// SPDX-License-Identifier: MIT
#pragma once

#include <array>
#include <cstdint>
#include <optional>
#include <vector>

#include "extract/small_picture.h"

namespace kithue::extract {

/// Sides of a frame, in this order everywhere.
enum class Side : std::uint8_t { left, top, right, bottom };

/// What a place may be when seen from the frame's edge.
enum class Likeness : std::uint8_t { other, surround, shaded };

/// The colours that lie along the edge of the frame, and where else in the picture they are. Not to be shared
/// between threads; `small` must outlive it.
class Surround {
 public:
  /// Looks along the sides that are asked for.
  Surround(const SmallPicture& small, const std::array<bool, 4>& sides);
  /// False when the edge has too many colours to be a table or a border.
  [[nodiscard]] bool plain() const noexcept { return plain_; }
  [[nodiscard]] Likeness at(int x, int y) const noexcept {
    const std::size_t place = small_.index(x, y);
    if (!map_[place]) map_[place] = likeness(small_.places[place]);
    return *map_[place];
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
  mutable std::vector<std::optional<Likeness>> map_;  // filled as it is looked at
};

}  // namespace kithue::extract
