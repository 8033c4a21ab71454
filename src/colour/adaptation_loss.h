// SPDX-License-Identifier: MIT
#pragma once

#include <optional>
#include <string_view>

namespace kithue {

/// How far Bradford leaves a surface from its true Lab under D50, 2 degrees, in dE00.
struct AdaptationLoss {
  double mean = 0.0;
  double most = 0.0;  ///< not passed in 19 of 20
};

/// For a white of known_whites(), over the 462 Munsell papers of Nickerson (Psychtoolbox-3), each taken there
/// by Bradford and by its spectrum. Nothing for a white without a table, or for D50/2, which loses nothing.
std::optional<AdaptationLoss> adaptation_loss(std::string_view white) noexcept;

}  // namespace kithue
