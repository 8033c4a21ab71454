// SPDX-License-Identifier: MIT
#pragma once

#include <string>
#include <vector>

#include "samples/dice.h"

namespace kithue::samples {

/// A table of readings before it is written down: a name for each column, text for each cell.
struct Table {
  std::vector<std::string> columns;
  std::vector<std::vector<std::string>> rows;

  /// The column that starts with these letters. REQUIRES: there is one.
  [[nodiscard]] std::size_t at(const std::string& start) const;
  std::string& cell(std::size_t row, const std::string& column) { return rows[row][at(column)]; }
  void drop(const std::string& column);
};

/// name, kind, white, L, a, b in some order with numbers in some form. All invented.
Table random_table(Dice& dice, std::size_t rows);

/// A number of two digits after the point at most, as instruments print it.
std::string number_text(Dice& dice, int low, int high);

std::string replaced_all(std::string text, const std::string& from, const std::string& to);

/// UTF-16 with its mark, of text that is ASCII or Latin-1.
std::string utf16_of(const std::string& utf8, bool little);

}  // namespace kithue::samples
