// SPDX-License-Identifier: MIT
#pragma once

#include <cstddef>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

namespace kithue {

/// True when every byte belongs to well-formed UTF-8 (no surrogates, nothing over-long).
bool is_utf8(std::string_view text);

/// The one cleaner that all text passes on its way to a terminal, a plain table or an error line.
/// Control characters, invalid UTF-8, bidirectional controls and line separators come out as visible
/// escapes such as \x1b or \u202e, so a name can never steer the terminal or forge a line.
std::string printable(std::string_view text);

/// JSON text in which everything that printable() would escape stands as \uXXXX. Line ends stay. `json` is
/// UTF-8 made by a JSON writer: such characters are then only inside strings.
std::string json_printable(std::string_view json);

/// Columns that the text takes on a terminal: wide characters 2, combining marks 0.
std::size_t display_width(std::string_view utf8);

/// The text cut to at most `columns` columns, with an ellipsis where something was left out.
std::string cut_to_width(std::string_view utf8, std::size_t columns);

/// A key under which spellings that differ in case, accents, width or white space are equal:
/// Unicode NFKD, marks dropped, full case folding, runs of white space as one space, ends trimmed.
/// Invalid UTF-8 is kept byte by byte.
std::string folded(std::string_view utf8);

/// Damerau-Levenshtein distance (optimal string alignment) in code points.
std::size_t edit_distance(std::string_view a, std::string_view b);

/// Up to three of `known` that are near `typed`: within 1 edit for words under 5 letters, else 2,
/// compared folded, nearest first, then in the order given.
std::vector<std::string> near_spellings(std::string_view typed, const std::vector<std::string>& known);

/// A finite decimal number with a point, all of `text`; never locale-bound. A leading '+' is allowed.
/// Anything else, "nan" and "inf" included, is nothing.
std::optional<double> parse_number(std::string_view text);
/// A whole number in decimal, all of `text`.
std::optional<long long> parse_whole(std::string_view text);

/// The shortest text that reads back as the same double; "0" for either zero. REQUIRES: finite.
std::string exact_number(double value);
/// Fixed decimals, never "-0.00". REQUIRES: finite.
std::string fixed_number(double value, int decimals);

std::string_view trimmed(std::string_view text);  ///< without ASCII white space at the ends
std::vector<std::string_view> split(std::string_view text, char separator);
std::string joined(const std::vector<std::string>& parts, std::string_view between);
/// "1 face", "3 faces": the plural takes an s.
std::string counted(std::size_t count, std::string_view noun);

}  // namespace kithue
