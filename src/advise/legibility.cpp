// SPDX-License-Identifier: MIT
#include "advise/legibility.h"

#include <algorithm>

#include "colour/difference.h"
#include "colour/srgb.h"

namespace kithue {
namespace {

constexpr double kFine = 4.5;
constexpr double kBold = 3.0;
constexpr double kSeen = 10.0;  // dE00

}  // namespace

double relative_luminance(const Lab& lab) noexcept {
  const LinearRgb rgb = rgb_from_lab(lab);
  return std::max(0.0, 0.2126 * rgb.r + 0.7152 * rgb.g + 0.0722 * rgb.b);
}

double contrast_ratio(const Lab& x, const Lab& y) noexcept {
  const double of_x = relative_luminance(x);
  const double of_y = relative_luminance(y);
  return (std::max(of_x, of_y) + 0.05) / (std::min(of_x, of_y) + 0.05);
}

std::string_view word_for(Reads reads) noexcept {
  switch (reads) {
    case Reads::fine:
      return "fine";
    case Reads::bold:
      return "bold";
    case Reads::picture:
      return "picture";
    case Reads::no:
      return "no";
  }
  return "";
}

Reads reads_on(const Lab& printed, const Lab& stock) noexcept {
  const double contrast = contrast_ratio(printed, stock);
  if (contrast >= kFine) return Reads::fine;
  if (contrast >= kBold) return Reads::bold;
  return ciede2000(printed, stock) >= kSeen ? Reads::picture : Reads::no;
}

}  // namespace kithue
