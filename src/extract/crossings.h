// SPDX-License-Identifier: MIT
#pragma once

#include <cstdint>
#include <vector>

#include "extract/looks.h"

namespace kithue::extract {

/// A colour that lines have, as their cuts show it.
struct Stroke {
  Light ink{};
  std::uint8_t ground = kNoLabel;  ///< the known colour on both sides of most of its cuts
  double width = 0.0;              ///< pixels
  std::size_t looks = 0;           ///< cuts that show it
  std::vector<Cut*> cuts;          ///< some of them
};

/// What crossings say about the contrast of a stroke.
struct Depth {
  double contrast = 1.0;  ///< true contrast to the ground over that of `ink`, in light
  bool told = false;
};

/// In the middle of a stroke not much wider than the smear the paper still shines through, and its cuts alone
/// cannot tell a broad pale line from a narrow dark one. Where two strokes cross or run into each other less
/// of it does: with f the part of the contrast that the middle of one stroke shows, a crossing shows
/// f + (1 - f) f, so that the ratio of the two tells f without any knowledge of the smear. Looks at a bounded
/// number of windows for each stroke, by brightness alone. `sharp`: the smear in pixels, to leave out strokes
/// wide enough to tell their colour themselves, and crossings that are none.
std::vector<Depth> depths_of(const LightRows& picture, const Cutter& cutter, const std::vector<Core>& cores,
                             const std::vector<Stroke>& strokes, double sharp, Executor& executor);

/// The smear that the told contrasts agree on: what a stroke's cuts show fixes its contrast times its width,
/// and the sum of the squares of smear and width over root 12.
class SmearFromDepth {
 public:
  /// `sharp`: as the strokes were fitted with; `sure`: it is known from elsewhere, and moves little.
  SmearFromDepth(const std::vector<Stroke>& strokes, const std::vector<Depth>& depths, double sharp,
                 bool sure);
  [[nodiscard]] double sharp() const;
  /// The contrast to believe: halfway between the stroke's own and what the common smear makes of its width.
  /// REQUIRES: `depth.told`, and that it was among those that made this.
  [[nodiscard]] double contrast(const Stroke& stroke, const Depth& depth) const;

 private:
  double sharp2_ = 0.0;   ///< squared: before
  double common2_ = 0.0;  ///< and as the contrasts have it
};

}  // namespace kithue::extract
