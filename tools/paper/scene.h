// SPDX-License-Identifier: MIT
#pragma once

#include <array>
#include <cstdint>

#include "paper/camera.h"
#include "paper/face.h"

namespace kithue::paper {

enum class TableKind { plain, wood, speckled, cloth };

/// A sheet that lies on something, photographed from above.
struct Scene {
  double height = 0.75;        ///< of the frame, as a part of its width
  Point centre{0.5, 0.375};    ///< of the sheet, in widths of the frame
  double width = 0.7;          ///< of the sheet, in widths of the frame; its height follows
  double turn_degrees = 0.0;   ///< clockwise
  Lab table{60.0, 8.0, 18.0};  ///< inside the sRGB gamut
  TableKind kind = TableKind::plain;
  double texture = 0.0;               ///< standard deviation of the table's light, as a part of it
  double shadow = 0.0;                ///< part of the light that the sheet's shadow takes, 0 = none
  Point shadow_offset{0.012, 0.014};  ///< widths of the frame
  double shadow_softness = 0.012;     ///< widths of the frame
  std::uint64_t seed = 1;
};

/// The photo of a scene and where its sheet lies.
struct SceneShot {
  Shot shot;                     ///< its last colour is the table
  std::array<Point, 4> corners;  ///< of the sheet in pixels: upper left, upper right, lower right, lower left
};

/// REQUIRES: a face with at most 254 colours.
SceneShot photograph_scene(const Face& face, const Scene& scene, const Camera& camera, Executor& executor);

}  // namespace kithue::paper
