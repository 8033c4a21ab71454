// SPDX-License-Identifier: MIT
#pragma once

#include <optional>

#include "cli/measure_chips.h"
#include "swatch/import.h"

namespace kithue {

/// How many chips have a name and no known colour: those become readings.
std::size_t named_chips(const ChipSet& set);

/// Puts the named chips into the stash as readings under D50/2: of the swatch that the name or id means, or
/// of a new one. Their error is the correction's leave-one-out error; with too few known colours for one,
/// what a single reference leaves in nine of ten colours; 0, not stated, with a profile alone. Errors:
/// impossible without a correction or a profile; bad_usage for a new swatch without a kind; ambiguous;
/// bad_input for a colour that no paper has; those of edit_stash().
Result<ImportCount> store_chips(const MeasureOptions& options, const Photo& photo, const ChipSet& set,
                                const std::optional<Correction>& correction, Session& session);

}  // namespace kithue
