// SPDX-License-Identifier: MIT
#include "samples/table.h"

#include <algorithm>
#include <cassert>
#include <utility>

namespace kithue::samples {
namespace {

constexpr const char* kNames[] = {"Slipway",      "Tarred Rope",  "Wet Sand",        "Cockle Row",
                                  "Limpet Shell", "Net Cord",     "Spindrift",       "Sailcloth",
                                  "Brass Bell",   "Mooring Blue", "Kelp Tray",       "Gull Grey",
                                  "Samphire 2",   "Buoy (wash)",  "Caf\xC3\xA9 Quay"};

void swap_columns(Table& table, std::size_t i, std::size_t k) {
  std::swap(table.columns[i], table.columns[k]);
  for (auto& row : table.rows) std::swap(row[i], row[k]);
}

}  // namespace

std::size_t Table::at(const std::string& start) const {
  const auto found = std::find_if(columns.begin(), columns.end(),
                                  [&](const std::string& column) { return column.starts_with(start); });
  assert(found != columns.end());
  return static_cast<std::size_t>(found - columns.begin());
}

void Table::drop(const std::string& column) {
  const auto place = static_cast<std::ptrdiff_t>(at(column));
  columns.erase(columns.begin() + place);
  for (auto& row : rows) row.erase(row.begin() + place);
}

std::string number_text(Dice& dice, int low, int high) {
  std::string text = std::to_string(dice.between(low, high));
  if (dice.chance(4)) return text;
  text += "." + std::to_string(dice.below(10));
  return dice.chance(2) ? text + std::to_string(dice.below(10)) : text;
}

Table random_table(Dice& dice, std::size_t rows) {
  constexpr const char* kKinds[] = {"stock", "ink", "other", "Stock", "INK"};
  constexpr const char* kWhites[] = {"D50/2", "D65/10", "D65/2", "D50/10"};
  Table table;
  table.columns = {"name", "kind", "white", "L", "a", "b"};
  for (std::size_t i = 0; i < rows; ++i) {
    table.rows.push_back({std::string(dice.one_of(kNames)) + " " + std::to_string(i), dice.one_of(kKinds),
                          dice.one_of(kWhites), number_text(dice, 10, 95), number_text(dice, -40, 40),
                          number_text(dice, -40, 60)});
  }
  for (std::size_t i = table.columns.size(); i > 1; --i) swap_columns(table, i - 1, dice.below(i));
  return table;
}

std::string replaced_all(std::string text, const std::string& from, const std::string& to) {
  for (std::size_t at = 0; (at = text.find(from, at)) != std::string::npos; at += to.size())
    text.replace(at, from.size(), to);
  return text;
}

std::string utf16_of(const std::string& utf8, bool little) {
  std::string out;
  const auto put = [&](unsigned code) {
    const char high = static_cast<char>(code >> 8U);
    const char low = static_cast<char>(code & 0xffU);
    out += little ? low : high;
    out += little ? high : low;
  };
  put(0xfeff);
  for (std::size_t i = 0; i < utf8.size(); ++i) {
    const auto byte = static_cast<unsigned char>(utf8[i]);
    if (byte < 0x80) {
      put(byte);
    } else {
      put((byte & 0x1fU) << 6U | (static_cast<unsigned char>(utf8[++i]) & 0x3fU));
    }
  }
  return out;
}

}  // namespace kithue::samples
