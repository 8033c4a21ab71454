// SPDX-License-Identifier: MIT
#pragma once

#include <cstddef>
#include <cstdint>

#include "harness/tally.h"

namespace kithue::harness {

/// A stash of about `bytes`: every `bit_step`-th single bit turned, every `cut_step`-th truncation, `edits`
/// random edits of several bytes, two stashes glued, an empty file, rows dropped with the counts made good.
/// Each is named as damaged or holds the same data. For every `restore_step`-th of them the program is run on
/// it: it offers the last good copy, and undo brings that back.
Tally damage_stash(std::size_t bytes, std::size_t bit_step, std::size_t cut_step, int edits,
                   std::size_t restore_step, std::uint64_t seed);

}  // namespace kithue::harness
