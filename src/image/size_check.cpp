// SPDX-License-Identifier: MIT
#include "image/size_check.h"

#include <algorithm>
#include <string>

namespace kithue {
namespace {

Error too_large(long long width, long long height, const std::string& limit) {
  return {ErrorKind::impossible,
          "the picture is too large: " + std::to_string(width) + " x " + std::to_string(height) +
              " pixels (" + limit + ")",
          "", "shrink it and try again"};
}

}  // namespace

MaybeError check_size(long long width, long long height, const PictureLimits& limits) {
  if (width > limits.most_side || height > limits.most_side) {
    return too_large(width, height, "the limit is " + std::to_string(limits.most_side) + " a side");
  }
  if (width * height > limits.most_pixels) {
    return too_large(width, height,
                     "the limit is " + std::to_string(limits.most_pixels / 1'000'000) + " megapixels");
  }
  return {};
}

MaybeError check_memory(long long width, long long height, long long bytes_needed,
                        const PictureLimits& limits) {
  const auto most = static_cast<long long>(limits.most_memory);
  if (bytes_needed <= most) return {};
  const double share = static_cast<double>(most) / static_cast<double>(bytes_needed);
  const double megapixels = static_cast<double>(width) * static_cast<double>(height) * share / 1e6;
  return too_large(width, height,
                   "the limit for one of this kind is about " +
                       std::to_string(std::max(1LL, static_cast<long long>(megapixels))) + " megapixels");
}

}  // namespace kithue
