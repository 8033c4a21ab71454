// SPDX-License-Identifier: MIT
#pragma once

#include <cstddef>
#include <cstdint>
#include <string>

#include "harness/tally.h"

namespace kithue::harness {

/// How many files of each kind are tried: one in `step` of the full number, which is 2,200 spoilt (500 CSV,
/// 400 CGATS, 300 kits, 400 JPEG, 400 PNG, 200 profiles and EXIF) and 700 sound ones (200, 100, 100, 100,
/// 150, 50). Every spoilt one must be refused with its line, or its offset in bytes; every sound one must be
/// read, and the pictures among them must have the pixels that stb_image finds.
Tally read_spoilt_files(std::size_t step, std::uint64_t seed);
Tally read_sound_files(std::size_t step, std::uint64_t seed);

/// The tables, kits and pictures among them through the program, each within 2 s (the shorter of the clock's
/// and the processor's) and 64 MB (pictures: 128 MB), with status 0, 3 or 8.
Tally run_spoilt_and_sound_files(const std::string& program, std::size_t step, std::uint64_t seed);

}  // namespace kithue::harness
