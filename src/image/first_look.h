// SPDX-License-Identifier: MIT
#pragma once

#include <string>
#include <string_view>

#include "image/picture.h"

namespace kithue {

/// Refuses what the first bytes of a file already rule out, so that a large file need not be read at all:
/// other kinds of file, and sizes over the limits. Nothing when it may be a picture; decode_picture has the
/// last word. Errors as decode_picture.
MaybeError refuse_by_first_look(std::string_view start, const std::string& name, const PictureLimits& limits);

}  // namespace kithue
