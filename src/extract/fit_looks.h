// SPDX-License-Identifier: MIT
#pragma once

#include <cstdint>
#include <vector>

#include "base/executor.h"
#include "extract/looks.h"
#include "extract/sharpness.h"

namespace kithue::extract {

/// Whether the picture has told its smear, or one is tried.
enum class SmearIs : std::uint8_t { known, tried };

/// Fits every look by itself and leaves open those that show something new: none of the `known` lights, and,
/// where the core was doubtful, no plain edge. `most_bands`: so many side by side are told apart, 1 to 3.
void fit_looks(std::vector<Look>& looks, const Smear& smear, SmearIs smear_is,
               const std::vector<Light>& known, int most_bands, Executor& executor);

/// The smear that lines of unknown colour tell.
EdgeSmear sharpness_of_lines(const std::vector<Look>& looks, const Cutter& cutter, int most_bands,
                             Executor& executor);

/// A colour that some looks show.
struct Shown {
  const std::vector<const Look*>& looks;
  Light light;  ///< all fitted together
  Light mean;   ///< of the looks
  int most_bands;
};

/// True when other cores that look like those of a colour that few looks show have that colour as well: what
/// crossings and ends of lines seem to show, their likes do not.
bool is_confirmed(const Shown& shown, const std::vector<Core>& cores, const Agreement& agreement,
                  const Smear& smear, const Cutter& cutter, int side, Executor& executor);

}  // namespace kithue::extract
