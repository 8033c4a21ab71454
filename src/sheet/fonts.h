// SPDX-License-Identifier: MIT
#pragma once

#include <cstddef>
#include <span>
#include <string_view>

namespace kithue {

/// A TrueType font built into the program, so that a sheet never depends on what a machine has installed.
struct EmbeddedFont {
  std::string_view name;  ///< "Lato-Regular"
  std::span<const unsigned char> bytes;
};

/// All of them. The first three are the faces of `TextFace`, in its order; after them the fonts that stand in
/// where a character is missing, first come first served. The list is kept in fonts.cmake.
std::span<const EmbeddedFont> embedded_fonts();

/// The weights of the sheet's own typeface.
enum class TextFace : std::size_t { regular = 0, bold = 1, light = 2 };
inline constexpr std::size_t kTextFaces = 3;

}  // namespace kithue
