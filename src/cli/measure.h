// SPDX-License-Identifier: MIT
#pragma once

#include <string>
#include <vector>

#include "cli/command.h"

namespace kithue {

struct MeasureOptions {
  std::string photo;
  std::string profile;             ///< ICC profile of the scanner; what the picture says of itself if empty
  std::string grid;                ///< "4x6": columns x rows
  std::string within;              ///< x,y,width,height or four corners; the whole picture if empty
  std::string boxes;               ///< a file of lines name,x,y,width,height
  std::string chart;               ///< CGATS or CSV: known colours, in order or by name
  std::string chart_grid;          ///< the chart is a grid of its own beside the chips
  std::string chart_within;        ///< where that grid lies
  std::string chart_white;         ///< white of the chart's numbers where its file does not say
  std::string background;          ///< colour of the plain background
  std::vector<std::string> known;  ///< "3=Wet Sand": chip 3 has this colour
  std::vector<std::string> names;  ///< "4=New Pink"
  std::string names_file;          ///< a name a line, for chip 1, 2, ...
  std::string kind;                ///< of swatches that are new
  std::string method;
  std::string on;
  std::string source;
  std::string date;
  std::string batch;
  bool wet = false;
  bool dry_run = false;
  std::string picture;  ///< an SVG that shows which region is which
  bool force = false;
};
ExitStatus run_measure(const MeasureOptions& options, Session& session);

}  // namespace kithue
