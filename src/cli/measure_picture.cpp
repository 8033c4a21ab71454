// SPDX-License-Identifier: MIT
#include <algorithm>
#include <memory>

#include "base/markup.h"
#include "cli/measure_chips.h"
#include "photo/thumbnail.h"
#include "sheet/picture_rows.h"

namespace kithue {

std::string chip_picture(const Photo& photo, const std::vector<Chip>& chips) {
  constexpr int kMostPixels = 1400;
  const std::string width = std::to_string(photo.width);
  const std::string height = std::to_string(photo.height);
  Thumbnail small = thumbnail(*photo.light, kMostPixels, kMostPixels);
  const std::string png = png_from({small.width, small.height, std::move(small.rgb),
                                    std::make_shared<const std::string>(std::move(small.profile))});
  std::string svg = "<svg xmlns=\"http://www.w3.org/2000/svg\" viewBox=\"0 0 " + width + " " + height +
                    "\">\n<image width=\"" + width + "\" height=\"" + height +
                    "\" preserveAspectRatio=\"none\" href=\"data:image/png;base64," + base64(png) + "\"/>\n";
  const int letters = std::max(8, photo.height / 60);
  const int line = std::max(2, photo.height / 300);
  for (const Chip& chip : chips) {
    const std::string x = std::to_string(chip.box.x);
    const std::string y = std::to_string(chip.box.y);
    const std::string frame = "<rect x=\"" + x + "\" y=\"" + y + "\" width=\"" +
                              std::to_string(chip.box.width) + "\" height=\"" +
                              std::to_string(chip.box.height) + "\" fill=\"none\" stroke=";
    // Black on white, so that it shows on any colour.
    svg += frame + "\"#fff\" stroke-width=\"" + std::to_string(2 * line) + "\"/>" + frame +
           "\"#000\" stroke-width=\"" + std::to_string(line) + "\"/><text x=\"" + x + "\" y=\"" + y +
           "\" dy=\"1em\" font-size=\"" + std::to_string(letters) +
           "\" font-family=\"sans-serif\" stroke=\"#fff\" stroke-width=\"" + std::to_string(2 * line) +
           "\" paint-order=\"stroke\">" + markup_text(chip.name) + (chip.known ? " (known)" : "") +
           "</text>\n";
  }
  return svg + "</svg>\n";
}

}  // namespace kithue
