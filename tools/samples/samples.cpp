// SPDX-License-Identifier: MIT
#include "samples/samples.h"

#include "samples/kinds.h"

namespace kithue::samples {
namespace {

struct Makers {
  Sample (*sound)(Dice&);
  Sample (*spoilt)(std::size_t, Dice&);
};

Makers makers_of(Kind kind) {
  switch (kind) {
    case Kind::csv:
      return {sound_csv, spoilt_csv};
    case Kind::cgats:
      return {sound_cgats, spoilt_cgats};
    case Kind::kit:
      return {sound_kit, spoilt_kit};
    case Kind::jpeg:
      return {sound_jpeg, spoilt_jpeg};
    case Kind::png:
      return {sound_png, spoilt_png};
    case Kind::profile:
      return {sound_profile, spoilt_profile};
    case Kind::exif:
      return {sound_exif, spoilt_exif};
  }
  return {};
}

/// A seed of its own for each file, so that a file does not depend on those before it.
Dice dice_for(Kind kind, std::size_t number, std::uint64_t seed) {
  return Dice(seed * 1'000'003 + static_cast<std::uint64_t>(kind) * 65'537 + number);
}

}  // namespace

std::vector<Sample> sound_files(Kind kind, std::size_t count, std::uint64_t seed) {
  std::vector<Sample> files;
  for (std::size_t i = 0; i < count; ++i) {
    Dice dice = dice_for(kind, 2 * i, seed);
    files.push_back(makers_of(kind).sound(dice));
  }
  return files;
}

std::vector<Sample> spoilt_files(Kind kind, std::size_t count, std::uint64_t seed) {
  std::vector<Sample> files;
  for (std::size_t i = 0; i < count; ++i) {
    Dice dice = dice_for(kind, 2 * i + 1, seed);
    files.push_back(makers_of(kind).spoilt(i, dice));
  }
  return files;
}

}  // namespace kithue::samples
