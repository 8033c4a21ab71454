// SPDX-License-Identifier: MIT
#include "paper/scene.h"

#include <algorithm>
#include <cmath>
#include <numbers>

#include "colour/srgb.h"

namespace kithue::paper {
namespace {

struct Placed {
  std::array<Point, 4> corners;
  Point along;   ///< of the sheet's width, length 1
  Point across;  ///< of its height, length 1
  double width;
  double height;
};

Placed placed(const Face& face, const Scene& scene) {
  const double turn = scene.turn_degrees * std::numbers::pi / 180.0;
  Placed out{{},
             {std::cos(turn), std::sin(turn)},
             {-std::sin(turn), std::cos(turn)},
             scene.width,
             scene.width * face.height / face.width};
  constexpr std::array<std::array<double, 2>, 4> kParts{{{-0.5, -0.5}, {0.5, -0.5}, {0.5, 0.5}, {-0.5, 0.5}}};
  for (std::size_t i = 0; i < 4; ++i) {
    const double u = kParts[i][0] * out.width;
    const double v = kParts[i][1] * out.height;
    out.corners[i] = {scene.centre.x + u * out.along.x + v * out.across.x,
                      scene.centre.y + u * out.along.y + v * out.across.y};
  }
  return out;
}

/// The face moved into the scene, the table painted over all that is outside the sheet.
Face moved(const Face& face, const Scene& scene, const Placed& place) {
  Face out{1.0, scene.height, face.colours, {}};
  const int table = static_cast<int>(out.colours.size());
  out.colours.push_back({scene.table, 0.0});
  const double scale = place.width / face.width;
  for (Shape shape : face.shapes) {
    for (Point& p : shape.outline) {
      const double u = p.x * scale;
      const double v = p.y * scale;
      p = {place.corners[0].x + u * place.along.x + v * place.across.x,
           place.corners[0].y + u * place.along.y + v * place.across.y};
    }
    out.shapes.push_back(std::move(shape));
  }
  constexpr double kFar = 3.0;
  for (std::size_t i = 0; i < 4; ++i) {
    const Point& p = place.corners[i];
    const Point& q = place.corners[(i + 1) % 4];
    const double size = std::hypot(q.x - p.x, q.y - p.y);
    const Point go{(q.x - p.x) / size, (q.y - p.y) / size};
    const Point off{go.y, -go.x};  // outwards
    add_polygon(out, table,
                {{p.x - kFar * go.x, p.y - kFar * go.y},
                 {q.x + kFar * go.x, q.y + kFar * go.y},
                 {q.x + kFar * (go.x + off.x), q.y + kFar * (go.y + off.y)},
                 {p.x + kFar * (off.x - go.x), p.y + kFar * (off.y - go.y)}});
  }
  return out;
}

/// How far a point lies outside the sheet (negative inside), in widths of the frame.
double outside(const Placed& place, const Point& centre, const Point& p) {
  const double u = (p.x - centre.x) * place.along.x + (p.y - centre.y) * place.along.y;
  const double v = (p.x - centre.x) * place.across.x + (p.y - centre.y) * place.across.y;
  const double du = std::abs(u) - 0.5 * place.width;
  const double dv = std::abs(v) - 0.5 * place.height;
  if (du > 0.0 && dv > 0.0) return std::hypot(du, dv);
  return std::max(du, dv);
}

double knot(std::uint64_t seed, int x, int y) {
  Dice dice(seed * 0x9e3779b97f4a7c15U + static_cast<std::uint64_t>(x + 70000) * 2654435761U +
            static_cast<std::uint64_t>(y + 70000) * 97U);
  dice.bits();
  return (dice.unit() + dice.unit() + dice.unit() - 1.5) * 2.0;
}

/// Smooth noise of standard deviation near 1.
double waves(std::uint64_t seed, double x, double y) {
  const int ix = static_cast<int>(std::floor(x));
  const int iy = static_cast<int>(std::floor(y));
  const double tx = x - ix;
  const double ty = y - iy;
  const double top = knot(seed, ix, iy) * (1 - tx) + knot(seed, ix + 1, iy) * tx;
  const double low = knot(seed, ix, iy + 1) * (1 - tx) + knot(seed, ix + 1, iy + 1) * tx;
  return 1.5 * (top * (1 - ty) + low * ty);
}

double texture(const Scene& scene, const Point& p) {
  switch (scene.kind) {
    case TableKind::plain:
      return 0.0;
    case TableKind::wood:
      return 0.7 * waves(scene.seed, 3.0 * p.x, 60.0 * p.y + 2.0 * waves(scene.seed + 1, 4 * p.x, 4 * p.y)) +
             0.5 * waves(scene.seed + 2, 8.0 * p.x, 220.0 * p.y);
    case TableKind::speckled:
      return waves(scene.seed, 160.0 * p.x, 160.0 * p.y);
    case TableKind::cloth:
      return 0.7 * std::sin(900.0 * p.x) + 0.7 * std::sin(900.0 * p.y);
  }
  return 0.0;
}

}  // namespace

SceneShot photograph_scene(const Face& face, const Scene& scene, const Camera& camera, Executor& executor) {
  const Placed place = placed(face, scene);
  SceneShot out{photograph(moved(face, scene, place), camera, executor), {}};
  Shot& shot = out.shot;
  const double width = shot.width;
  for (std::size_t i = 0; i < 4; ++i)
    out.corners[i] = {place.corners[i].x * width, place.corners[i].y * width};
  const Point shade{scene.centre.x + scene.shadow_offset.x, scene.centre.y + scene.shadow_offset.y};
  executor.run(static_cast<std::size_t>(shot.height), [&](std::size_t row) {
    for (int x = 0; x < shot.width; ++x) {
      const Point p{(x + 0.5) / width, (static_cast<double>(row) + 0.5) / width};
      // The pixel at the edge is half sheet: texture and shadow begin a little outside.
      const double far = outside(place, scene.centre, p) * width;
      if (far < 0.0) continue;
      double gain = 1.0 + scene.texture * texture(scene, p);
      if (scene.shadow > 0.0) {
        const double t = std::clamp(0.5 - outside(place, shade, p) / (2.0 * scene.shadow_softness), 0.0, 1.0);
        gain *= 1.0 - scene.shadow * t * t * (3.0 - 2.0 * t);
      }
      unsigned char* pixel =
          shot.rgb.data() + 3 * (row * static_cast<std::size_t>(shot.width) + static_cast<std::size_t>(x));
      for (int c = 0; c < 3; ++c) {
        const double light = gain * light_from_coded(pixel[c] / 255.0);
        pixel[c] =
            static_cast<unsigned char>(std::lround(255.0 * coded_from_light(std::clamp(light, 0.0, 1.0))));
      }
    }
  });
  return out;
}

}  // namespace kithue::paper
