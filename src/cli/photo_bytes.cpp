// SPDX-License-Identifier: MIT
#include "cli/photo_bytes.h"

#include "base/file_start.h"
#include "base/files.h"
#include "image/first_look.h"

namespace kithue {

Result<std::string> read_photo_bytes(const std::string& path, const std::string& name,
                                     const PhotoLimits& limits) {
  constexpr std::size_t kFirstLook = 65'536;
  const auto start = read_start(path, kFirstLook);
  if (!start) return start.error();
  if (start->size() == kFirstLook) {
    if (auto refused = refuse_by_first_look(*start, name, {limits.most_pixels, limits.most_side}))
      return std::move(*refused);
  }
  return read_file(path, limits.most_bytes);
}

}  // namespace kithue
