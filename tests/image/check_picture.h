// SPDX-License-Identifier: MIT
#pragma once

#include <doctest/doctest.h>

#include <cstring>
#include <string>

#include "image/picture.h"

namespace kithue_test {

/// The file is refused for what the word says, with its name and what to do.
inline void check_refused(const std::string& name, const std::string& bytes, const std::string& word,
                          kithue::ErrorKind kind) {
  CAPTURE(word);
  const auto picture = kithue::decode_picture(bytes, name, {});
  REQUIRE_FALSE(picture.has_value());
  CHECK(picture.error().kind == kind);
  CHECK(picture.error().where.starts_with(name));
  CHECK_FALSE(picture.error().advice.empty());
  CHECK_MESSAGE(picture.error().what.find(word) != std::string::npos, picture.error().what);
}

inline std::size_t pixel_bytes(const kithue::Picture& picture) {
  return static_cast<std::size_t>(picture.width) * static_cast<std::size_t>(picture.height) *
         static_cast<std::size_t>(picture.channels) * static_cast<std::size_t>(picture.bits / 8);
}

inline bool same_pixels(const kithue::Picture& a, const kithue::Picture& b) {
  return a.width == b.width && a.height == b.height && a.channels == b.channels && a.bits == b.bits &&
         std::memcmp(a.pixels.get(), b.pixels.get(), pixel_bytes(a)) == 0;
}

}  // namespace kithue_test
