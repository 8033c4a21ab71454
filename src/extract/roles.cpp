// SPDX-License-Identifier: MIT
#include "extract/roles.h"

#include <algorithm>

#include "colour/difference.h"

namespace kithue {

std::string_view word_for(Role role) noexcept {
  switch (role) {
    case Role::ground:
      return "ground";
    case Role::motif:
      return "motif";
    case Role::accent:
      return "accent";
  }
  return "motif";
}

}  // namespace kithue

namespace kithue::extract {

void give_roles(std::vector<PaletteColour>& colours) {
  constexpr double kTouch = 0.02;
  constexpr double kVividTouch = 0.04;
  constexpr double kVividChroma = 30.0;
  std::stable_sort(colours.begin(), colours.end(),
                   [](const PaletteColour& x, const PaletteColour& y) { return x.share > y.share; });
  for (std::size_t i = 0; i < colours.size(); ++i) {
    PaletteColour& colour = colours[i];
    const bool vivid = chroma(colour.lab) > chroma(colours.front().lab) + kVividChroma;
    colour.role = i == 0                                          ? Role::ground
                  : colour.share < (vivid ? kVividTouch : kTouch) ? Role::accent
                                                                  : Role::motif;
  }
  std::stable_sort(colours.begin(), colours.end(), [](const PaletteColour& x, const PaletteColour& y) {
    return static_cast<int>(x.role) < static_cast<int>(y.role);
  });
}

}  // namespace kithue::extract
