// SPDX-License-Identifier: MIT
#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "base/result.h"
#include "swatch/swatch.h"

namespace kithue {

/// All the user's swatches, in memory. Swatches are kept in order of id.
struct Stash {
  std::vector<Swatch> swatches;
  int next_id = 1;
  friend bool operator==(const Stash&, const Stash&) = default;
};

/// "Sea Glass (pad)": the name with the method, or with the kind where there is none. find_swatch() takes it.
std::string full_name(const Swatch& swatch);

/// Null when no swatch has this id.
const Swatch* swatch_with_id(const Stash& stash, long long id);

/// The swatch meant by a name or an id ("17", "#17", "id:17"). A name forgives case, accents, width and
/// spacing; an exact spelling wins over a forgiven one. "Name (marker)" names the method as well.
/// "#123" could be a CSS colour: with 3, 4, 6 or 8 digits it is not taken for an id.
/// Errors: not_found, with near spellings in the advice; ambiguous, with the candidates and their ids.
/// Never acts on a guess.
Result<const Swatch*> find_swatch(const Stash& stash, std::string_view text);

/// A colour with a name, wherever a command takes a COLOUR.
struct NamedColour {
  std::string name;  ///< the swatch's name, or the literal as typed
  Lab lab;
  double uncertainty = 0.0;        ///< dE00; 0 for a literal
  const Swatch* swatch = nullptr;  ///< null for a literal
};

/// A swatch (find_swatch) or a CSS literal (lab_from_css). Text that looks like CSS is never looked up,
/// unless a swatch has exactly that name.
/// Errors: those of both; impossible for a swatch without a number (unmeasurable, no readings).
Result<NamedColour> resolve_colour(const Stash& stash, std::string_view text);

}  // namespace kithue
