// SPDX-License-Identifier: MIT
#pragma once

#include <cstdint>
#include <string>

#include "harness/tally.h"

namespace kithue::harness {

/// Ctrl-C in each command that can take long, `each` times at random moments of its work: status 130 within a
/// second, files old or new, nothing half written. A run that ended before the interrupt came is drawn again,
/// a bounded number of times, and not counted; so a program that has no handler, or goes on, cannot pass.
/// The second is one of processor time for every interrupt, and one by the clock for the median of a command:
/// on a busy machine a single wait says nothing about the program.
Tally interrupt_long_commands(const std::string& program, int each, std::uint64_t seed);

}  // namespace kithue::harness
