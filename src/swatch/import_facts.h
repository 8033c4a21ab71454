// SPDX-License-Identifier: MIT
#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "swatch/cgats.h"

namespace kithue {

/// What a file says about all its rows.
struct FileFacts {
  std::string white;            ///< "D65/10"
  std::string condition;        ///< "M1, white backing, 45/0"
  std::string source;           ///< instrument
  std::string date;             ///< ISO 8601
  std::optional<double> whole;  ///< what a reflectance of 1 is written as
  std::string not_surfaces;     ///< why its numbers are no readings of surfaces, or empty
  std::string caution;          ///< for a warning, or empty
};

/// From the keywords of a CGATS table. `first_line` is that of the file, which names its type.
FileFacts facts_of(const CgatsTable& table, std::string_view first_line);

/// "D65/10" from free text that names both ("ILLUMINANT, D65" "OBSERVER, 10 degree"), or nothing.
std::optional<std::string> white_in_text(std::string_view text);

/// "D65/10" from a short text that is about nothing else: "10 deg/D65", "D65, 10 deg", "C/2"; or nothing.
std::optional<std::string> white_in_brackets(std::string_view text);

/// "M1, white backing, 45/0" from free text: the measurement condition of ISO 13655 (M0 to M3), the backing
/// and the geometry, as far as they are named; empty when none is.
std::string condition_in_text(std::string_view text);

/// "M0" to "M3" when the condition of a reading begins with it, or empty.
std::string_view mode_of(std::string_view condition);

}  // namespace kithue
