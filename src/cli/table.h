// SPDX-License-Identifier: MIT
#pragma once

#include <cstdint>
#include <string>
#include <vector>

#include "cli/command.h"
#include "colour/lab.h"

namespace kithue {

/// One cell: text, and perhaps a colour shown as a block before it.
struct Cell {
  std::string text;
  bool has_colour = false;
  Lab colour;
  bool right = false;  ///< aligned right, for numbers
};

/// Rows for people or for scripts. In text mode columns are aligned and, on a terminal that shows colour,
/// cells with a colour start with a block of it ('!' marks one the screen cannot show). In plain mode it is
/// tab-separated with a header line and no blocks. All text passes printable().
struct Table {
  std::vector<std::string> header;
  std::vector<std::vector<Cell>> rows;
};
void print_table(Session& session, const Table& table);

Cell cell(std::string text);
/// Aligned right.
Cell right_cell(std::string text);
Cell right_cell(std::int64_t value);
Cell number_cell(double value, int decimals);
Cell colour_cell(const Lab& colour, std::string text);

/// A block two columns wide in the colour, or nothing where the terminal cannot show it.
std::string colour_block(Paint paint, const Lab& colour, int columns = 2);

}  // namespace kithue
