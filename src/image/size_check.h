// SPDX-License-Identifier: MIT
#pragma once

#include <cstddef>
#include <optional>

#include "base/result.h"
#include "image/picture.h"

namespace kithue {

/// The largest embedded profile that is taken, bytes.
inline constexpr std::size_t kMostIcc = std::size_t{4} << 20;

/// Refuses (impossible) a picture whose sides or pixels are over the limits.
MaybeError check_size(long long width, long long height, const PictureLimits& limits);

/// Refuses (impossible) a picture that takes more memory to decode than is allowed, and says how many
/// megapixels of its kind would do.
MaybeError check_memory(long long width, long long height, long long bytes_needed,
                        const PictureLimits& limits);

}  // namespace kithue
