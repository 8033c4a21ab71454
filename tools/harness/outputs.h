// SPDX-License-Identifier: MIT
#pragma once

#include <cstdint>
#include <string>

#include "harness/tally.h"

namespace kithue::harness {

/// Every command of the command table with its output going to a full device and to a pipe that nobody reads,
/// with the stash in a folder that may not be written or is not there, with HOME unset. Status 5 and one line
/// for the full device; a quiet stop for the pipe; never a signal of our own making, a stash that changed, or
/// more than one line. `built` is the built kithue.
Tally spoil_outputs(const std::string& built);

/// Ctrl-C in commands that take long, `interrupts` times at random moments: status 130 within a second (or
/// the command was done), files old or new, nothing half written.
Tally interrupt(const std::string& program, int interrupts, std::uint64_t seed);

}  // namespace kithue::harness
