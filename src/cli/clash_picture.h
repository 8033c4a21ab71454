// SPDX-License-Identifier: MIT
#pragma once

#include <string>
#include <vector>

#include "advise/clash.h"
#include "swatch/stash.h"

namespace kithue {

/// The pairs as an SVG 1.1 picture for a screen, in the order given: the two colours touching, both names,
/// the verdict, the distance and the first reason. Colours are sRGB, the nearest a screen can show. Text is
/// escaped; no script, no links, nothing loaded. Same pairs, same bytes.
/// REQUIRES: pair indices inside `colours`.
std::string clash_picture(const std::vector<NamedColour>& colours, const std::vector<PairVerdict>& pairs);

}  // namespace kithue
