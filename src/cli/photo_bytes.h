// SPDX-License-Identifier: MIT
#pragma once

#include <string>

#include "base/result.h"
#include "photo/photo.h"

namespace kithue {

/// The bytes of a photo, after a look at the first 64 kB: what they rule out is not read any further. `name`
/// is the file's for messages. Errors: those of read_file; bad_input and impossible as decode_photo.
Result<std::string> read_photo_bytes(const std::string& path, const std::string& name,
                                     const PhotoLimits& limits = {});

}  // namespace kithue
