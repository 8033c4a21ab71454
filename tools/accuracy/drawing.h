// SPDX-License-Identifier: MIT
#pragma once

#include <cmath>
#include <numbers>
#include <string>
#include <vector>

#include "accuracy/colours.h"
#include "paper/face.h"

/// What the families draw with.
namespace kithue::accuracy {

inline constexpr double kTurn = 2.0 * std::numbers::pi;

/// A face 1 wide, of a usual shape, with its ground.
paper::Face begun(paper::Dice& dice, const Lab& ground);

/// Adds a colour to the face and gives its number.
int with(paper::Face& face, const Lab& lab, double wash = 0.0);

/// A stroke width in pixels as people draw: 2 to 12, thin ones often.
double stroke_of(paper::Dice& dice, double pixel, double thinnest = 2.0, double thickest = 12.0);

paper::Point anywhere(paper::Dice& dice, const paper::Face& face);

/// Berries of a vivid colour that cover 0.3 to 0.9 % of the face.
void add_accent(paper::Face& face, paper::Dice& dice, Chooser& choose, double pixel);
/// The same on six faces of ten.
void maybe_accent(paper::Face& face, paper::Dice& dice, Chooser& choose, double pixel);

/// A wandering line of the pen.
std::vector<paper::Point> scribble(paper::Dice& dice, const paper::Face& face, double step, int steps);

/// Capital letters and spaces without sense.
std::string some_words(paper::Dice& dice, int count);

/// Visits a turned grid that covers the face.
template <typename Visit>
void over_grid(const paper::Face& face, double pitch, double turn, bool staggered, Visit visit) {
  const double reach = std::hypot(face.width, face.height) / 2 + pitch;
  const int n = static_cast<int>(reach / pitch) + 1;
  const double c = std::cos(turn);
  const double s = std::sin(turn);
  for (int i = -n; i <= n; ++i) {
    for (int j = -n; j <= n; ++j) {
      const double x = (j + (staggered && (i & 1) != 0 ? 0.5 : 0.0)) * pitch;
      const double y = i * pitch;
      visit(i, j, paper::Point{face.width / 2 + c * x - s * y, face.height / 2 + s * x + c * y});
    }
  }
}

}  // namespace kithue::accuracy
