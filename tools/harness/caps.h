// SPDX-License-Identifier: MIT
#pragma once

#include <string>

#include "harness/tally.h"

namespace kithue::harness {

/// Memory and time of the program on large input: every stash command on 10,000 swatches (64 MB, 150 ms),
/// photos of 12, 24 and 100 megapixels (128, 256, 512 MB; 0.8, 1.5, 6 s), 100,000 rows of CSV (2 s), and what
/// is refused after at most 64 kB were read (32 MB, 50 ms). The time is the shorter of the clock's and the
/// processor's, the best of three. Each measure is printed.
Tally keep_caps(const std::string& program);

/// Every command with an address space of 64, 128 and 256 MB: done, or one clear line and a status of the
/// list.
Tally limit_address_space(const std::string& program);

}  // namespace kithue::harness
