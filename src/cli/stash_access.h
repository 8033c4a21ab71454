// SPDX-License-Identifier: MIT
#pragma once

#include <functional>
#include <nlohmann/json_fwd.hpp>
#include <string>
#include <vector>

#include "base/result.h"
#include "cli/command.h"
#include "swatch/check.h"
#include "swatch/stash.h"
#include "swatch/store.h"

namespace kithue {

/// The user's stash for reading. One that is not there is an empty one, with a warning that says how to
/// start; but a file the user named (--stash, KITHUE_STASH) must be there. Errors: those of load_stash();
/// cannot_read.
Result<Stash> open_stash(Session& session);
/// The same for a command that was given these colours: when all of them are literals an empty stash is no
/// news.
Result<Stash> open_stash_for(Session& session, const std::vector<std::string>& colours);

/// For commands that change the stash: works on it under the lock and saves it, or with `dry_run` on a copy
/// that is thrown away. Warns when the save might not survive a power cut.
/// Errors: those of change_stash().
Result<Change> edit_stash(Session& session, bool dry_run, const std::function<MaybeError(Stash&)>& change);

/// After a change: "would have " before `line` on a dry run, else the way back after it.
void tell_change(Session& session, bool dry_run, const std::string& line);

/// Warns when swatches that are new or have got readings may be the same as others: the same name, nearly the
/// same colour, two batches in one. At most five lines.
void warn_of_duplicates(Session& session, const std::vector<Finding>& findings);

/// {"id","name","kind","method","lab","spread","readings","retired", ...}.
nlohmann::ordered_json swatch_json(const Swatch& swatch);

}  // namespace kithue
