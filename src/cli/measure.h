// SPDX-License-Identifier: MIT
#pragma once

#include <string>
#include <vector>

#include "cli/command.h"

namespace kithue {

struct MeasureOptions {
  std::string photo;
  std::string grid;                ///< "4x6": columns x rows
  std::string within;              ///< the window of the grid; the whole picture if empty
  std::string boxes;               ///< a file of lines name,x,y,width,height
  std::string chart;               ///< CGATS or CSV: its rows are the chips, in order or by name
  std::vector<std::string> known;  ///< "3=Wet Sand": chip 3 has this colour
  std::vector<std::string> names;  ///< "4=New Pink"
  std::string picture;             ///< an SVG that shows which region is which
  bool force = false;
};
ExitStatus run_measure(const MeasureOptions& options, Session& session);

}  // namespace kithue
