// SPDX-License-Identifier: MIT
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "colour/lab.h"
#include "kit/cut_plan.h"
#include "kit/length.h"
#include "sheet/page.h"

namespace kithue {

/// One paper with the plan to cut it by.
struct CutPaper {
  std::string name;        ///< "Sailcloth", "Sheet 1"
  std::optional<Lab> lab;  ///< of a stock
  CutJob job;
  CutPlan plan;
};

struct CutSheet {
  std::string name;  ///< of the kit
  std::string date;
  std::string kits;  ///< "24 kits and 1 spare"
  Unit unit = Unit::mm;
  std::vector<CutPaper> papers;
  std::string printer_note;
};

/// A drawing of every way a sheet is cut, with how many sheets are cut like it, the cuts in their order,
/// score lines dashed, and for each piece how many are cut when these sheets are done, of how many. Pieces
/// are lettered in the drawing and named beside it. The caution about trimmer blades stands at the top.
Document lay_out_cut_sheet(const CutSheet& sheet, PageSize size);

}  // namespace kithue
