// SPDX-License-Identifier: MIT
#pragma once

#include <cstddef>
#include <optional>
#include <string>
#include <vector>

#include "cli/command.h"

namespace kithue {

struct SheetCommand {
  std::string kit;
  std::string output;  ///< empty: beside the kit file, with the ending of the format; "-": standard output
  std::string format;  ///< "pdf", "svg", "html"; empty: what the output's ending says, else PDF
  std::string page;    ///< "a4", "letter", or empty: what the kit says, else A4
  bool pattern_strip = false;
  bool kit_sheet = false;
  bool student = false;
  bool cut = false;
  bool colour_map = false;
  bool printer_check = false;
  bool large = false;               ///< large print, of kit sheet and student pages
  std::size_t copies = 1;           ///< pattern strips to print
  std::vector<std::string> lists;   ///< a student's range each: CSV or CGATS
  std::string white;                ///< of the lists, where they do not say
  std::optional<std::string> date;  ///< instead of the kit's
  std::string printer_readings;     ///< readings of the printer check page
  bool force = false;               ///< replace a file that is there
};

ExitStatus run_sheet(const SheetCommand& options, Session& session);

}  // namespace kithue
