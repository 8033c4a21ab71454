// SPDX-License-Identifier: MIT
#pragma once

#include <array>
#include <cstdint>
#include <vector>

#include "extract/small_picture.h"

namespace kithue::extract {

/// Sides of a frame, in this order everywhere.
enum class Side : std::uint8_t { left, top, right, bottom };

/// What a place may be when seen from the frame's edge.
enum class Likeness : std::uint8_t { other, surround, shaded };

/// The colours that lie along the edge of the frame, and where else in the picture they are.
class Surround {
 public:
  /// Looks along the sides that are asked for.
  Surround(const SmallPicture& small, const std::array<bool, 4>& sides);
  /// False when the edge has too many colours to be a table or a border.
  [[nodiscard]] bool plain() const noexcept { return plain_; }
  [[nodiscard]] Likeness at(int x, int y) const noexcept {
    return map_[static_cast<std::size_t>(y) * static_cast<std::size_t>(width_) + static_cast<std::size_t>(x)];
  }

 private:
  struct Colour {
    Lab lab;
    int count;
  };
  [[nodiscard]] Likeness likeness(const Lab& lab) const noexcept;
  int width_;
  bool plain_ = false;
  std::vector<Colour> colours_;
  std::vector<Likeness> map_;
};

}  // namespace kithue::extract
