// SPDX-License-Identifier: MIT
#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "base/result.h"
#include "cli/command.h"

namespace kithue {

/// One edge or length of a crop: pixels, or a part of the picture's width or height.
struct CropLength {
  double value = 0.0;
  bool per_cent = false;
};

/// A window on a picture as the user writes it: x, y, width, height.
struct CropWords {
  CropLength x;
  CropLength y;
  CropLength width;
  CropLength height;
};

/// Reads "120,80,640,480" or "10%,10%,80%,80%"; the two may be mixed.
/// Errors: bad_usage for anything that is not four such lengths, or a width or height of 0.
Result<CropWords> crop_from_text(const std::string& text);

/// Whole pixels, inside the picture.
struct CropPixels {
  int x = 0;
  int y = 0;
  int width = 0;
  int height = 0;
};
/// Errors: bad_input when the window does not lie inside a picture of that size.
Result<CropPixels> crop_in_pixels(const CropWords& words, int width, int height);

/// One length, "120" or "10%", of a side that is `whole` pixels long. Nothing for anything else.
std::optional<double> crop_length_in_pixels(std::string_view text, int whole);

struct ExtractCommand {
  std::vector<std::string> photos;
  int colours = 0;  ///< 0: found by itself
  std::string crop;
  std::string white;               ///< window of a white or grey card
  std::string white_is;            ///< its colour; a white card when empty
  std::vector<std::string> chips;  ///< "Wet Sand=x,y,width,height"
};

ExitStatus run_extract(const ExtractCommand& options, Session& session);

}  // namespace kithue
