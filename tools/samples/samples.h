// SPDX-License-Identifier: MIT
#pragma once

#include <cstddef>
#include <cstdint>
#include <string>
#include <vector>

namespace kithue::samples {

/// Kinds of file that come from elsewhere. `profile` is a colour profile, `exif` the TIFF structure of EXIF.
enum class Kind { csv, cgats, kit, jpeg, png, profile, exif };

/// A file made from a seed: the same seed gives the same bytes everywhere.
struct Sample {
  std::string bytes;
  std::string what;      ///< the fault that was put in; of a sound file, what is special about it
  std::size_t line = 0;  ///< of a table: the line of the fault; 0 = of the file as a whole
  std::size_t rows = 0;  ///< of a sound table: readings in it
};

/// Files that follow the rules of their kind in many ways. All invented.
std::vector<Sample> sound_files(Kind kind, std::size_t count, std::uint64_t seed);

/// Files with one fault each, every kind of fault in turn, so that none can be taken for a sound one.
std::vector<Sample> spoilt_files(Kind kind, std::size_t count, std::uint64_t seed);

}  // namespace kithue::samples
