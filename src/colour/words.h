// SPDX-License-Identifier: MIT
#pragma once

#include <string>

#include "colour/lab.h"

namespace kithue {

/// Plain words for a colour: the ISCC-NBS name whose centroid is nearest by CIEDE2000, in British spelling:
/// "vivid red", "light greyish yellowish brown", "yellowish white". Near the neutral axis only the whites,
/// greys and blacks count. Every finite colour gets a name; a NaN or an infinity gives empty text.
/// Source: Kelly, K. L., "Central notations for the revised ISCC-NBS color-name blocks",
/// J. Res. Natl. Bur. Stand. 61(5), 427-431 (1958), RP2911.
std::string plain_words(const Lab& lab);

}  // namespace kithue
