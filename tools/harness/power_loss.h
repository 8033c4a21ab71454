// SPDX-License-Identifier: MIT
#pragma once

#include <cstddef>
#include <vector>

#include "harness/tally.h"

namespace kithue::harness {

/// Records what each writing command asks of the disk, then builds the disks that a power cut could leave:
/// the cut after each request, and for each cut the data that was never synced gone, zeros or cut at 512 or
/// 4096 bytes, and the names that were never synced gone, kept, or kept in part. On each disk the stash and
/// the outputs are whole and either old or new; new once the command had said that it saved. `fired` counts
/// disks that differ from an undisturbed one.
Tally cut_power(const std::vector<std::size_t>& sizes);

}  // namespace kithue::harness
