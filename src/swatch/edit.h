// SPDX-License-Identifier: MIT
#pragma once

#include <string>
#include <string_view>

#include "base/result.h"
#include "colour/lab.h"
#include "swatch/stash.h"

namespace kithue {

/// A name as it may be stored: without white space at the ends; UTF-8, 1 to 200 code points, no control
/// characters. Errors: bad_input, saying which of these it breaks.
Result<std::string> valid_name(std::string_view text);

/// Other text of a record: UTF-8, at most 2000 code points, no control characters but line ends. `what` names
/// it in the error.
Result<std::string> valid_text(std::string_view text, std::string_view what);

/// A day as ISO 8601 "2026-03-14"; empty is a day not known. Errors: bad_input.
Result<std::string> valid_date(std::string_view text);

/// Nothing when L is 0 to 100.5 and a and b within 200 of neutral; else what is wrong, with a hint where the
/// value looks like another scale (L of 0 to 1, 8-bit coding).
MaybeError check_lab(const Lab& lab);

/// "78,4,18", "78 4 18" or "78; 4; 18", points for decimals. Errors: bad_input.
Result<Lab> lab_from_triple(std::string_view text);

/// A reading given under a white ("D65/10"; see known_whites()), adapted to D50, 2 degree where it is another
/// one, with the fact written down. Errors: bad_input for a white that is not known or a Lab out of range.
Result<Reading> reading_under(const Lab& given, std::string_view white);

/// The swatch with exactly this name, kind and method; null when there is none.
Swatch* same_swatch(Stash& stash, std::string_view name, Kind kind, std::string_view method);

/// Puts the swatch at the end with the next id, and returns it. REQUIRES: no same_swatch() is there.
Swatch& append_swatch(Stash& stash, Swatch swatch);

/// The swatch with this id, which is there. REQUIRES: it is.
Swatch& swatch_at(Stash& stash, int id);

/// Takes a swatch out. Its id is never used again. REQUIRES: it is there.
void erase_swatch(Stash& stash, int id);

}  // namespace kithue
