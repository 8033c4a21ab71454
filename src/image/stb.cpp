// SPDX-License-Identifier: MIT
// The one file that compiles stb_image; its warnings are off (src/CMakeLists.txt).
#include "image/stb.h"

#include <cstdlib>

// Zeroed memory: stb_image leaves planes unwritten when a scan ends early, and what it returns must not
// depend on what the memory held before.
#define STBI_MALLOC(size) std::calloc(1, size)
#define STBI_REALLOC(old, size) std::realloc(old, size)
#define STBI_FREE(old) std::free(old)
#define STB_IMAGE_IMPLEMENTATION
#define STB_IMAGE_STATIC
#define STBI_ONLY_JPEG
#define STBI_ONLY_PNG
#define STBI_NO_STDIO
#define STBI_MAX_DIMENSIONS 65500
#include <stb/stb_image.h>

namespace kithue {

StbPixels stb_decode(std::string_view bytes, bool sixteen_bits) {
  StbPixels out;
  const auto* data = reinterpret_cast<const stbi_uc*>(bytes.data());
  const int size = static_cast<int>(bytes.size());
  if (sixteen_bits) {
    auto* samples = stbi_load_16_from_memory(data, size, &out.width, &out.height, &out.channels, 0);
    out.pixels.reset(reinterpret_cast<unsigned char*>(samples));
  } else {
    out.pixels.reset(stbi_load_from_memory(data, size, &out.width, &out.height, &out.channels, 0));
  }
  if (!out.pixels) out.fault = stbi_failure_reason() != nullptr ? stbi_failure_reason() : "unknown fault";
  return out;
}

}  // namespace kithue
