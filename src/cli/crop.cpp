// SPDX-License-Identifier: MIT
#include <cmath>
#include <optional>

#include "base/text.h"
#include "cli/extract.h"

namespace kithue {
namespace {

std::optional<CropLength> length_from_text(std::string_view text) {
  std::string_view digits = trimmed(text);
  CropLength length;
  if (digits.ends_with('%')) {
    length.per_cent = true;
    digits = trimmed(digits.substr(0, digits.size() - 1));
  }
  const auto value = parse_number(digits);
  if (!value || *value < 0.0 || *value > 1e6) return std::nullopt;
  length.value = *value;
  return length;
}

int pixels_of(const CropLength& length, int whole) {
  return static_cast<int>(std::lround(length.per_cent ? length.value / 100.0 * whole : length.value));
}

}  // namespace

Result<CropWords> crop_from_text(const std::string& text) {
  const Error wrong{ErrorKind::bad_usage, "not a window: " + text, "--crop",
                    "write x,y,width,height in pixels or per cent, such as 10%,10%,80%,80%"};
  const auto parts = split(text, ',');
  if (parts.size() != 4) return wrong;
  CropWords words;
  CropLength* const places[] = {&words.x, &words.y, &words.width, &words.height};
  for (std::size_t i = 0; i < 4; ++i) {
    const auto length = length_from_text(parts[i]);
    if (!length) return wrong;
    *places[i] = *length;
  }
  if (words.width.value == 0.0 || words.height.value == 0.0) return wrong;
  return words;
}

Result<CropPixels> crop_in_pixels(const CropWords& words, int width, int height) {
  const CropPixels window{pixels_of(words.x, width), pixels_of(words.y, height),
                          pixels_of(words.width, width), pixels_of(words.height, height)};
  // Sizes are below 1e6 per cent of 65,500: the sums stay far inside an int.
  if (window.width < 1 || window.height < 1 || window.x + window.width > width ||
      window.y + window.height > height) {
    return Error{ErrorKind::bad_input,
                 "the window is not inside the picture of " + std::to_string(width) + " x " +
                     std::to_string(height) + " pixels",
                 "--crop", "x plus width and y plus height must stay inside"};
  }
  return window;
}

std::optional<double> crop_length_in_pixels(std::string_view text, int whole) {
  const auto length = length_from_text(text);
  if (!length) return std::nullopt;
  return length->per_cent ? length->value / 100.0 * whole : length->value;
}

}  // namespace kithue
