// SPDX-License-Identifier: MIT
#include "base/checksum.h"

#include <xxhash.h>

namespace kithue {

std::string checksum(std::string_view bytes) {
  const XXH128_hash_t hash = XXH3_128bits(bytes.data(), bytes.size());
  XXH128_canonical_t canonical;
  XXH128_canonicalFromHash(&canonical, hash);
  constexpr char kHex[] = "0123456789abcdef";
  std::string text;
  for (const unsigned char byte : canonical.digest) {
    text += kHex[byte >> 4U];
    text += kHex[byte & 15U];
  }
  return text;
}

}  // namespace kithue
