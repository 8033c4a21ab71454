// SPDX-License-Identifier: MIT
#pragma once

#include <array>
#include <cstddef>
#include <utility>
#include <vector>

#include "base/executor.h"
#include "colour/lab.h"
#include "colour/light_rows.h"

namespace kithue {

/// A picture reduced to at most 256 places a side, for what looks at the whole frame: each place is a mean in
/// linear light over a row or two of the pixels there, not over all of them.
struct SmallPicture {
  int width = 0;
  int height = 0;
  int step = 1;  ///< pixels a place; the rest at the right and below is left out
  std::vector<Lab> places;
  std::vector<std::array<float, 3>> light;  ///< the same in the picture's own primaries
  [[nodiscard]] std::size_t index(int x, int y) const noexcept {
    return static_cast<std::size_t>(y) * static_cast<std::size_t>(width) + static_cast<std::size_t>(x);
  }
  [[nodiscard]] const Lab& at(int x, int y) const noexcept { return places[index(x, y)]; }
};

/// Makes one, a band of rows a job.
class SmallPictureMaker {
 public:
  /// How many rows of pixels each job needs. `picture` must stay where it is.
  std::vector<int> begin(const LightRows& picture);
  void take(std::size_t job);
  /// What was made. REQUIRES: every job was done.
  SmallPicture result() { return std::move(small_); }

 private:
  [[nodiscard]] int row_looked_at(int y, int look) const noexcept;
  const LightRows* picture_ = nullptr;
  SmallPicture small_;
};

/// The same bits for any executor. A picture of up to 256 pixels a side is taken as it is.
SmallPicture small_picture_of(const LightRows& picture, Executor& executor);

}  // namespace kithue
