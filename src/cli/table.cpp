// SPDX-License-Identifier: MIT
#include "cli/table.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <cstddef>
#include <ostream>
#include <utility>

#include "base/text.h"
#include "colour/srgb.h"

namespace kithue {
namespace {

/// The nearest of the 6 x 6 x 6 cube and the 24 greys of a 256-colour terminal.
int nearest_of_256(const Rgb8& rgb) {
  constexpr std::array<int, 6> kSteps{0, 95, 135, 175, 215, 255};
  const auto step = [&](int value) {
    int best = 0;
    for (int i = 1; i < 6; ++i) {
      if (std::abs(kSteps[static_cast<std::size_t>(i)] - value) <
          std::abs(kSteps[static_cast<std::size_t>(best)] - value))
        best = i;
    }
    return best;
  };
  const int r = step(rgb.r);
  const int g = step(rgb.g);
  const int b = step(rgb.b);
  const auto gap = [&](int x, int y, int z) {
    return (x - rgb.r) * (x - rgb.r) + (y - rgb.g) * (y - rgb.g) + (z - rgb.b) * (z - rgb.b);
  };
  const auto at = [&](int i) { return kSteps[static_cast<std::size_t>(i)]; };
  const int grey = std::clamp((rgb.r + rgb.g + rgb.b - 3 * 8 + 15) / 30, 0, 23);
  const int level = 8 + 10 * grey;
  return gap(level, level, level) < gap(at(r), at(g), at(b)) ? 232 + grey : 16 + 36 * r + 6 * g + b;
}

std::string shown(Session& session, const Cell& one) {
  std::string text = printable(one.text);
  if (!one.has_colour || session.mode == Mode::plain) return text;
  const std::string block = colour_block(session.paint, one.colour);
  if (block.empty()) return text;
  return block + (in_srgb_gamut(one.colour) ? " " : "!") + text;
}

std::size_t width_of(Session& session, const Cell& one) {
  const std::size_t block =
      one.has_colour && session.mode == Mode::text && session.paint != Paint::none ? 3 : 0;
  return block + display_width(printable(one.text));
}

void print_plain(Session& session, const Table& table) {
  session.out << joined(table.header, "\t") << '\n';
  for (const auto& row : table.rows) {
    for (std::size_t i = 0; i < row.size(); ++i)
      session.out << (i == 0 ? "" : "\t") << printable(row[i].text);
    session.out << '\n';
  }
}

}  // namespace

Cell cell(std::string text) {
  return {.text = std::move(text)};
}

Cell right_cell(std::string text) {
  Cell one = cell(std::move(text));
  one.right = true;
  return one;
}

Cell right_cell(std::int64_t value) {
  return right_cell(std::to_string(value));
}

Cell number_cell(double value, int decimals) {
  return {.text = std::isfinite(value) ? fixed_number(value, decimals) : "-", .right = true};
}

Cell colour_cell(const Lab& colour, std::string text) {
  return {.text = std::move(text), .has_colour = true, .colour = colour};
}

std::string colour_block(Paint paint, const Lab& colour, int columns) {
  if (paint == Paint::none) return {};
  const Rgb8 rgb = screen_rgb(colour);
  const std::string code =
      paint == Paint::truecolour
          ? "2;" + std::to_string(rgb.r) + ";" + std::to_string(rgb.g) + ";" + std::to_string(rgb.b)
          : "5;" + std::to_string(nearest_of_256(rgb));
  return "\x1b[48;" + code + "m" + std::string(static_cast<std::size_t>(columns), ' ') + "\x1b[0m";
}

void print_table(Session& session, const Table& table) {
  if (session.mode == Mode::plain) return print_plain(session, table);
  std::vector<std::size_t> widths;
  for (const std::string& name : table.header) widths.push_back(display_width(name));
  for (const auto& row : table.rows) {
    for (std::size_t i = 0; i < row.size(); ++i) widths[i] = std::max(widths[i], width_of(session, row[i]));
  }
  const auto put = [&](const std::string& text, std::size_t width, std::size_t column, bool right,
                       bool last) {
    const std::string gap(widths[column] - width, ' ');
    session.out << (column == 0 ? "" : "  ") << (right ? gap + text : text + (last ? "" : gap));
  };
  for (std::size_t i = 0; i < table.header.size(); ++i) {
    const bool right = !table.rows.empty() && table.rows.front()[i].right;
    put(table.header[i], display_width(table.header[i]), i, right, i + 1 == table.header.size());
  }
  session.out << '\n';
  for (const auto& row : table.rows) {
    for (std::size_t i = 0; i < row.size(); ++i) {
      put(shown(session, row[i]), width_of(session, row[i]), i, row[i].right, i + 1 == row.size());
    }
    session.out << '\n';
  }
}

}  // namespace kithue
