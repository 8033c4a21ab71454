// SPDX-License-Identifier: MIT
#pragma once

#include <array>
#include <vector>

#include "colour/lab.h"

namespace kithue::extract {

/// What two colours can mix to in linear light, as a chain of Lab points from one to the other.
using MixtureChain = std::array<Lab, 9>;
MixtureChain mixture_chain(const Lab& from, const Lab& to);

/// Plain distance in Lab units.
double lab_distance(const Lab& x, const Lab& y) noexcept;
/// Plain Lab distance of a colour from the nearest place on the chain.
double distance_to(const Lab& lab, const MixtureChain& chain) noexcept;

/// True when two of the colours mix to within `near` Lab units of this one.
bool is_mixture(const Lab& lab, const std::vector<Lab>& colours, double near);

}  // namespace kithue::extract
