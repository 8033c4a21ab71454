// SPDX-License-Identifier: MIT
#pragma once

#include <array>
#include <cstddef>
#include <span>
#include <string_view>

namespace kithue {

/// Relative power of a light at 380, 385, ... 780 nm.
inline constexpr std::size_t kPowerBands = 81;
inline constexpr double kPowerStartNm = 380.0;
inline constexpr double kPowerStepNm = 5.0;
using Power = std::array<double, kPowerBands>;

/// A published light.
struct Illuminant {
  std::string_view name;   ///< "D65", "FL11", "LED-B3"
  std::string_view words;  ///< for people: "cool white tube"
  const Power* power = nullptr;
};

/// A, C, D50, D55, D65, D75; FL1 to FL12; FL3.4 to FL3.14; LED-B1 to LED-V2.
/// Source: CIE 015:2018 (CIE 15:2004 for the fluorescent lamps), 5 nm tables; named at each table.
std::span<const Illuminant> known_illuminants();

/// Any case, with or without dash or space: "led b3", "F11" for FL11. Null when there is none.
const Illuminant* find_illuminant(std::string_view name);

}  // namespace kithue
