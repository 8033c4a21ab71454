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

void keep_colours(std::vector<PaletteColour>& colours, int most) {
  constexpr double kLeast = 0.001;
  constexpr std::size_t kMostNamed = 16;
  const std::size_t allowed = most > 0 ? static_cast<std::size_t>(most) : kMostNamed;
  const auto smaller = [](const PaletteColour& x, const PaletteColour& y) { return x.share < y.share; };
  while (colours.size() > 1) {
    const auto least = std::min_element(colours.begin(), colours.end(), smaller);
    if (least->share >= kLeast && colours.size() <= allowed) break;
    const PaletteColour gone = *least;
    colours.erase(least);
    const auto nearest = std::min_element(colours.begin(), colours.end(), [&](const auto& x, const auto& y) {
      return ciede2000(x.lab, gone.lab) < ciede2000(y.lab, gone.lab);
    });
    nearest->share += gone.share;
  }
}

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
