// SPDX-License-Identifier: MIT
#pragma once

#include <optional>
#include <string>
#include <utility>
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

/// One face as it would lie on a card.
struct CardPicture {
  std::string label;
  std::vector<std::pair<Lab, double>> panel;  ///< the colours of the face and their shares
  std::vector<NamedColour> layers;            ///< the base, then mats, from the outside in
  std::optional<NamedColour> ink;             ///< the ink that is nearest to the face
};
/// Three cards a row, flat: each layer shows round the next, the panel in bands as wide as the shares, the
/// ink as a dot on it. Below it the label and the names. In the same kind of picture.
std::string cards_picture(const std::vector<CardPicture>& cards);

/// "Split opposite": what a set is called for people.
std::string sentence_for(Scheme scheme);

/// Writes a picture that was asked for and says so. Errors: cannot_write; a file that is there is only
/// replaced with `force`.
MaybeError write_picture(const std::string& path, const std::string& svg, bool force, Session& session);

}  // namespace kithue
