// SPDX-License-Identifier: MIT
#pragma once

#include <cstddef>
#include <cstdint>
#include <string>
#include <string_view>
#include <vector>

#include "base/result.h"
#include "kit/length.h"

namespace kithue {

/// A rectangle on a sheet: x to the right of its left edge, y down from its top edge.
struct Rectangle {
  Length x;
  Length y;
  Size size;
  friend bool operator==(const Rectangle&, const Rectangle&) = default;
};

/// A straight line on a sheet.
struct CutLine {
  Length x1, y1, x2, y2;
};

/// Pieces of one size that are cut from one paper. At least one of `upright` and `turned` is true.
struct CutPiece {
  std::string name;            ///< "Gulls: mat"; unique in its job
  Size size;                   ///< as it stands on the card
  std::int64_t count = 1;      ///< how many to cut, 0 or more
  bool upright = true;         ///< it may lie as it stands
  bool turned = true;          ///< it may lie on its side
  std::string face;            ///< the side of the paper that shows, or empty
  std::vector<Length> scores;  ///< fold lines, measured along its longer side (along the width of a square)
};

/// Everything that is cut from one paper: a stock, or a sheet of the pack.
struct CutJob {
  std::string paper;  ///< "Sailcloth", or "1" for a sheet of the pack
  bool patterned = false;
  Size sheet;
  std::vector<CutPiece> pieces;
};

/// A piece where it lies.
struct PlacedPiece {
  std::size_t piece = 0;  ///< index into CutJob::pieces
  Rectangle at;           ///< as it lies: a turned piece has its height as width here
  bool turned = false;
};

/// One cut, from edge to edge of one part of the sheet, which it leaves as two.
struct Cut {
  Rectangle part;        ///< what lies under the blade
  bool upright = false;  ///< the blade runs from the top to the bottom of the part, at x = `at`; else from
                         ///< left to right, at y = `at`
  Length at;             ///< on the sheet, not on the part
  int step = 1;          ///< cuts of one step run the same way through the same part, beside each other
};

/// One way to cut a sheet, and how many sheets are cut like it.
struct SheetPlan {
  std::int64_t sheets = 1;
  std::vector<PlacedPiece> pieces;
  std::vector<Cut> cuts;  ///< in the order to make them: strips first, then the pieces out of the strips
  std::vector<Rectangle> left;  ///< offcuts, the largest first
};

/// How to cut every piece of a job: exactly as many as are wanted, none too many.
struct CutPlan {
  std::vector<SheetPlan> plans;  ///< in the order to cut them
  std::int64_t sheets = 0;       ///< of all plans together
  bool fewest = false;           ///< proved: with cuts from edge to edge no plan needs fewer sheets
  double waste = 0.0;            ///< 0-1: the part of those sheets that is no piece
};

/// Finds a plan with few sheets: by trying all where the job is small enough, else by linear programming over
/// ways to cut a sheet and a search for the rest (Gilmore & Gomory, "Multistage cutting stock problems of two
/// and more dimensions", Oper. Res. 13(1), 94-120 (1965), doi:10.1287/opre.13.1.94). There is no kerf and no
/// margin: a trimmer's blade takes nothing away. The same job gives the same plan.
/// Errors: impossible, for a piece that fits its sheet in no way it may lie, with its name.
Result<CutPlan> plan_cuts(const CutJob& job);

/// Said wherever a cutting plan is shown. Common practice, no source.
inline constexpr std::string_view kBladeCaution =
    "Trimmer blades are sharp: keep your fingers behind the guard and off the path of the blade, cut a few "
    "sheets at a time, and close and lock the blade when you stop.";

/// The fold lines of a piece where it lies.
std::vector<CutLine> score_lines(const CutPiece& piece, const PlacedPiece& placed);
/// The line that a cut makes.
CutLine line_of(const Cut& cut);
/// How many of each piece of a job are cut when a plan is done, and all plans before it: the running total.
std::vector<std::int64_t> cut_so_far(const CutJob& job, const CutPlan& plan, std::size_t plans_done);

}  // namespace kithue
