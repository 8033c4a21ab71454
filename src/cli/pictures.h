// SPDX-License-Identifier: MIT
#pragma once

#include <string>
#include <vector>

#include "advise/clash.h"
#include "advise/harmony.h"
#include "cli/command.h"
#include "swatch/stash.h"

namespace kithue {

/// The pairs as an SVG 1.1 picture for a screen, in the order given: the two colours touching, both names,
/// the verdict, the distance and the first reason. Colours are sRGB, the nearest a screen can show. Text is
/// escaped; no script, no links, nothing loaded. Same pairs, same bytes.
/// REQUIRES: pair indices inside `colours`.
std::string clash_picture(const std::vector<NamedColour>& colours, const std::vector<PairVerdict>& pairs);

/// A row a set: its colours side by side with their names below, in the same kind of picture.
std::string harmony_picture(const std::vector<HarmonySet>& sets);

/// "Split opposite": what a set is called for people.
std::string sentence_for(Scheme scheme);

/// Writes a picture that was asked for and says so. Errors: cannot_write; a file that is there is only
/// replaced with `force`.
MaybeError write_picture(const std::string& path, const std::string& svg, bool force, Session& session);

}  // namespace kithue
