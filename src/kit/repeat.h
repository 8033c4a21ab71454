// SPDX-License-Identifier: MIT
#pragma once

#include <cstddef>
#include <string>
#include <string_view>
#include <vector>

#include "base/result.h"
#include "kit/kit.h"
#include "kit/touching.h"

namespace kithue {

/// What is kept of a kit to find repeats.
struct PastKit {
  std::string name;
  std::string date;                ///< as the kit has it, or empty
  std::vector<KitColour> colours;  ///< of all faces
};

PastKit past_kit(const Kit& kit, const FaceColours& faces);

/// How far one palette is from another, in dE00; 0 for the same colours, symmetric. Every colour of either
/// looks for its nearest in the other; the distances are averaged within a palette, a colour counting by the
/// square root of its share (said of none: all alike), and then over the two. Above about 5 it orders, it
/// does not measure. NaN when either has no colours. Common practice, no source.
double palette_distance(const std::vector<KitColour>& a, const std::vector<KitColour>& b);

struct Repeat {
  std::size_t kit = 0;  ///< index into the past kits
  double de00 = 0.0;
};
/// Past kits, nearest first, ties in the order given; those without colours are left out.
std::vector<Repeat> nearest_kits(const PastKit& kit, const std::vector<PastKit>& past);
/// "much the same palette", "a near palette", "another palette": limits 3 and 8, common practice, no source.
std::string_view words_for_repeat(double de00) noexcept;

/// A history file: CSV, a row a colour, with the columns kit, date, L, a, b, share and role.
std::string history_csv(const std::vector<PastKit>& past);
/// Kits in the order of the file: rows of one name and date are one kit. Errors: bad_input with the line.
Result<std::vector<PastKit>> history_from_csv(std::string_view text, const std::string& name);

}  // namespace kithue
