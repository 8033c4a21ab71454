// SPDX-License-Identifier: MIT
#pragma once

#include <cstdint>
#include <string>
#include <string_view>

#include "base/result.h"

namespace kithue {

/// What sizes are written and shown in.
enum class Unit { mm, cm, inch };
std::string_view word_for(Unit unit) noexcept;  ///< "mm", "cm", "in"

/// A length in whole nanometres, so that 1/64 in (396,875 nm) and 0.001 mm are both exact and sums never
/// drift. 1 in = 25.4 mm (international yard and pound agreement, 1959).
struct Length {
  std::int64_t nm = 0;
  // NOLINTNEXTLINE(modernize-use-nullptr): clang-tidy 14 takes the defaulted comparison for a null pointer
  friend auto operator<=>(const Length&, const Length&) = default;
  friend Length operator+(Length x, Length y) { return {x.nm + y.nm}; }
  friend Length operator-(Length x, Length y) { return {x.nm - y.nm}; }
};
inline constexpr std::int64_t kNanometresPerMm = 1'000'000;
inline constexpr std::int64_t kNanometresPerInch = 25'400'000;
double mm_of(Length length) noexcept;

struct Size {
  Length width;
  Length height;
  friend bool operator==(const Size&, const Size&) = default;
};

/// No piece and no sheet of a kit is longer: 3 m.
inline constexpr Length kLongest{3'000 * kNanometresPerMm};

/// "140 mm", "14 cm", "5.5 in", "5 1/2 in", "5-1/2in", "1/8 in", "5½ in", "5 1/2\"". A number without a unit
/// is refused. Greater than 0, at most kLongest. Errors: bad_input, with what to write.
Result<Length> length_from(std::string_view text);

/// "4 x 5 1/4 in", "105 mm x 148 mm", "8 1/2 × 11 in": width by height; a unit at the end goes for both.
/// Errors: bad_input, with what to write.
Result<Size> size_from(std::string_view text);

/// "5 1/2 in", "139.7 mm", "13.97 cm". Inches as a fraction where a 64th is exact, else to 4 decimals; read
/// back by length_from() it is the same length to 0.001 mm.
std::string length_text(Length length, Unit unit);
/// "4 1/4 x 5 1/2 in".
std::string size_text(const Size& size, Unit unit);

}  // namespace kithue
