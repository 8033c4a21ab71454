// SPDX-License-Identifier: MIT
#pragma once

#include <cstddef>
#include <cstdint>
#include <string_view>

namespace kithue {

/// One byte, two or four, most significant first. REQUIRES: they lie inside `bytes`.
inline unsigned byte_at(std::string_view bytes, std::size_t at) {
  return static_cast<unsigned char>(bytes[at]);
}
inline unsigned big16(std::string_view bytes, std::size_t at) {
  return byte_at(bytes, at) << 8 | byte_at(bytes, at + 1);
}
inline std::uint32_t big32(std::string_view bytes, std::size_t at) {
  return big16(bytes, at) << 16 | big16(bytes, at + 2);
}
/// The same, least significant first.
inline unsigned little16(std::string_view bytes, std::size_t at) {
  return byte_at(bytes, at) | byte_at(bytes, at + 1) << 8;
}
inline std::uint32_t little32(std::string_view bytes, std::size_t at) {
  return little16(bytes, at) | little16(bytes, at + 2) << 16;
}

}  // namespace kithue
