// SPDX-License-Identifier: MIT
#include "cli/face_reading.h"

#include <algorithm>
#include <cmath>

#include "colour/light_rows.h"

namespace kithue {

FaceReading read_face(const Photo& photo, const std::optional<CropPixels>& window, int colours,
                      Executor& executor, EarlyLook* early) {
  ExtractOptions options;
  options.colours = colours;
  options.facts = {photo.lossy, photo.profile_state == ProfileState::embedded,
                   photo.profile_state == ProfileState::broken, photo.clipped_share};
  FaceReading reading;
  const bool made = early != nullptr && early->is_of(*photo.light);
  reading.small = made ? early->small() : small_picture_of(*photo.light, executor);
  const auto look = [&](const LightRows& rows) {
    reading.width = rows.width();
    reading.height = rows.height();
    reading.palette = extract_palette(rows, options, executor, early);
  };
  if (window) {
    reading.window_given = true;
    const double left = window->x;
    const double top = window->y;
    const double right = left + window->width;
    const double bottom = top + window->height;
    reading.sheet.corners = {Spot{left, top}, Spot{right, top}, Spot{right, bottom}, Spot{left, bottom}};
    look(CroppedRows(*photo.light, window->x, window->y, window->width, window->height));
    return reading;
  }
  reading.sheet = find_sheet(reading.small, *photo.light, executor);
  if (reading.sheet.certain) {
    look(SheetRows(*photo.light, reading.sheet));
  } else {
    look(*photo.light);
  }
  return reading;
}

CropPixels box_around(const Sheet& sheet, int width, int height) noexcept {
  double left = width;
  double top = height;
  double right = 0.0;
  double bottom = 0.0;
  for (const Spot& corner : sheet.corners) {
    left = std::min(left, corner.x);
    top = std::min(top, corner.y);
    right = std::max(right, corner.x);
    bottom = std::max(bottom, corner.y);
  }
  const int x = std::clamp(static_cast<int>(left), 0, width - 1);
  const int y = std::clamp(static_cast<int>(top), 0, height - 1);
  // Even sides, so that it can be read at half size.
  const auto side = [](int wanted, int most) { return std::max(1, std::clamp(wanted, 1, most) & ~1); };
  return {x, y, side(static_cast<int>(right) - x, width - x), side(static_cast<int>(bottom) - y, height - y)};
}

double light_at(const FaceReading& reading, double x, double y) {
  if (!reading.palette.evenness.supported) return 1.0;
  // Where it lies in the sheet: 0 to 1 along its upper and its left side.
  const auto& c = reading.sheet.corners;
  const double ux = c[1].x - c[0].x;
  const double uy = c[1].y - c[0].y;
  const double vx = c[3].x - c[0].x;
  const double vy = c[3].y - c[0].y;
  const double whole = ux * vy - uy * vx;
  if (whole == 0.0) return 1.0;
  constexpr double kBeyond = 0.15;
  const auto part = [&](double px, double py, double qx, double qy) {
    return std::clamp((px * qy - py * qx) / whole, -kBeyond, 1.0 + kBeyond);
  };
  const double u = part(x - c[0].x, y - c[0].y, vx, vy);
  const double v = part(ux, uy, x - c[0].x, y - c[0].y);
  return reading.palette.evenness.at(u, v);
}

}  // namespace kithue
