// SPDX-License-Identifier: MIT
#pragma once

#include <string>
#include <vector>

#include "base/result.h"
#include "extract/chips.h"

namespace kithue {

/// The refusal (bad_usage) of what was said about a measurement.
Error bad_option(std::string what, std::string where, std::string advice);

/// The boxes of a grid "4x6" (columns x rows) in a window "x,y,w,h" or in the four corners
/// "x,y,x,y,x,y,x,y" of a grid that lies askew: its own upper left, upper right, lower right, lower left.
/// Each box lies inside its cell. Pixels or per cent; the whole picture when `within` is empty. `option`
/// names the option of the grid in errors: bad_usage, bad_input for a window that is not inside the picture.
Result<std::vector<ChipBox>> boxes_of_grid(const std::string& grid, const std::string& within, int width,
                                           int height, const std::string& option);

/// The window, or the box around the corners, that `within` speaks of. Errors as above.
Result<ChipBox> window_of(const std::string& within, int width, int height, const std::string& option);

struct NamedBox {
  std::string name;
  ChipBox box;
};
/// From lines "name,x,y,width,height"; "#" starts a comment line. The name may hold commas. Errors:
/// cannot_read; bad_input with the line.
Result<std::vector<NamedBox>> boxes_from_file(const std::string& path, int width, int height);

}  // namespace kithue
