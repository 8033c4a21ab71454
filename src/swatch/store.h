// SPDX-License-Identifier: MIT
#pragma once

#include <cstddef>
#include <functional>
#include <optional>
#include <string>
#include <vector>

#include "base/files.h"
#include "base/result.h"
#include "swatch/stash.h"

namespace kithue {

/// How many earlier states are kept beside the stash, as FILE.v1, FILE.v2 and so on.
inline constexpr std::size_t kVersionsKept = 20;
/// How long a change waits for another command to finish.
inline constexpr int kStashPatienceMs = 10'000;

/// The stash in a file; nothing when there is no such file. Needs no lock: a save never shows half a file.
/// Errors: cannot_read; damaged, with the last good copy in the advice; too_new.
Result<std::optional<Stash>> load_stash(const std::string& path, SystemCalls& calls = system_calls());

/// What a change did.
struct Change {
  bool written = false;  ///< false when the change left everything as it was: nothing was written
  std::string doubt;     ///< saved, but why a power cut might still undo it; empty when certain
};

/// Reads the stash under the lock, lets `change` work on it, and writes it if it is not what it was; an
/// absent file is an empty stash, on which `change` is tried first, so that a refused one leaves nothing
/// behind: `change` may be called twice, each time with the stash as it is. The state before becomes the
/// newest version; the oldest beyond kVersionsKept goes. When `change` gives an error nothing is written and
/// the error is passed on. Errors: those of load_stash and `change`; busy; cannot_write. After an error the
/// file is as it was.
Result<Change> change_stash(const std::string& path, const std::function<MaybeError(Stash&)>& change,
                            SystemCalls& calls = system_calls(), int patience_ms = kStashPatienceMs);

/// One earlier state.
struct StashVersion {
  long long number = 0;
  std::string path;
};
/// Newest first.
std::vector<StashVersion> stash_versions(const std::string& path, SystemCalls& calls = system_calls());

/// What an undo brought back, or would.
struct Undo {
  Stash stash;            ///< as it is now
  std::string from;       ///< the version file that became the stash
  std::size_t left = 0;   ///< how many more steps can be undone
  std::string set_aside;  ///< where the state that was undone is kept
  std::string doubt;      ///< as in Change
};

/// Puts the newest good version, byte for byte, in the place of the stash, and drops it from the versions, so
/// that a second undo goes further back. Works on a damaged or missing stash too. The state that it replaces
/// is kept as FILE.undone (FILE.damaged when it was).
/// Errors: impossible, when there is nothing to undo; busy; cannot_read; cannot_write.
Result<Undo> undo_stash(const std::string& path, bool dry_run = false, SystemCalls& calls = system_calls(),
                        int patience_ms = kStashPatienceMs);

}  // namespace kithue
