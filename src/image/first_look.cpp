// SPDX-License-Identifier: MIT
#include "image/first_look.h"

#include <optional>

#include "image/byte_order.h"
#include "image/size_check.h"
#include "image/sniff.h"

namespace kithue {
namespace {

struct Sides {
  long long width = 0;
  long long height = 0;
};

/// PNG third edition, 11.2.1: IHDR is the first chunk.
std::optional<Sides> png_sides(std::string_view start) {
  if (start.size() < 24 || start.substr(12, 4) != "IHDR") return {};
  return Sides{big32(start, 16), big32(start, 20)};
}

/// ITU-T T.81, B.2.2: the frame header, where the segments before it are whole.
std::optional<Sides> jpeg_sides(std::string_view start) {
  for (std::size_t at = 2; at + 9 <= start.size() && byte_at(start, at) == 0xff;) {
    const unsigned marker = byte_at(start, at + 1);
    const bool frame = marker >= 0xc0 && marker <= 0xcf && marker != 0xc4 && marker != 0xc8 && marker != 0xcc;
    if (frame) return Sides{big16(start, at + 7), big16(start, at + 5)};
    if (marker == 0xda || marker == 0xff) return {};
    at += 2 + big16(start, at + 2);
  }
  return {};
}

}  // namespace

MaybeError refuse_by_first_look(std::string_view start, const std::string& name,
                                const PictureLimits& limits) {
  const auto format = sniff_picture(start);
  MaybeError error;
  if (!format) {
    error = format.error();
  } else {
    const auto sides = *format == PictureFormat::png ? png_sides(start) : jpeg_sides(start);
    if (sides) error = check_size(sides->width, sides->height, limits);
  }
  if (error) error->where = name;
  return error;
}

}  // namespace kithue
