// SPDX-License-Identifier: MIT
#pragma once

#include <string_view>

#include "base/result.h"
#include "image/picture.h"

namespace kithue {

/// JPEG or PNG, told by the first bytes and never by a name. Anything else is refused: what it looks like,
/// and what to do about it.
Result<PictureFormat> sniff_picture(std::string_view bytes);

}  // namespace kithue
