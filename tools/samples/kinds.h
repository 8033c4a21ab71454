// SPDX-License-Identifier: MIT
#pragma once

#include <cstddef>

#include "samples/dice.h"
#include "samples/samples.h"

namespace kithue::samples {

/// One sound file of each kind; one with the fault whose turn it is.
Sample sound_csv(Dice& dice);
Sample spoilt_csv(std::size_t turn, Dice& dice);
Sample sound_cgats(Dice& dice);
Sample spoilt_cgats(std::size_t turn, Dice& dice);
Sample sound_kit(Dice& dice);
Sample spoilt_kit(std::size_t turn, Dice& dice);
Sample sound_jpeg(Dice& dice);
Sample spoilt_jpeg(std::size_t turn, Dice& dice);
Sample sound_png(Dice& dice);
Sample spoilt_png(std::size_t turn, Dice& dice);
Sample sound_profile(Dice& dice);
Sample spoilt_profile(std::size_t turn, Dice& dice);
Sample sound_exif(Dice& dice);
Sample spoilt_exif(std::size_t turn, Dice& dice);

}  // namespace kithue::samples
