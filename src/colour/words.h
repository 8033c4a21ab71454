// SPDX-License-Identifier: MIT
#pragma once

#include <string>

#include "colour/lab.h"

namespace kithue {

/// Plain words for a colour: the ISCC-NBS name whose centroid is nearest by CIEDE2000, in British spelling:
/// "vivid red", "light greyish blue", "yellowish white". Every finite colour gets one.
/// Source: Kelly, K. L., "Central notations for the revised ISCC-NBS color-name blocks",
/// J. Res. Natl. Bur. Stand. 61(5), 427-431 (1958), RP2911.
std::string plain_words(const Lab& lab);

}  // namespace kithue
