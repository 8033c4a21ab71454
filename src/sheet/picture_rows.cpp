// SPDX-License-Identifier: MIT
#include "sheet/picture_rows.h"

#include <zlib.h>

#include <array>
#include <cstdint>
#include <cstdlib>

#include "sheet/pdf_objects.h"

namespace kithue {
namespace {

constexpr std::size_t kChannels = 3;

int paeth(int left, int up, int corner) {
  const int guess = left + up - corner;
  const int dl = std::abs(guess - left);
  const int du = std::abs(guess - up);
  const int dc = std::abs(guess - corner);
  return dl <= du && dl <= dc ? left : du <= dc ? up : corner;
}

/// One row under one of the five PNG filters (ISO/IEC 15948, section 9), with the filter's number in front.
std::string filtered_row(const unsigned char* row, const unsigned char* above, std::size_t bytes,
                         int filter) {
  std::string out(1, static_cast<char>(filter));
  out.reserve(bytes + 1);
  for (std::size_t i = 0; i < bytes; ++i) {
    const int left = i >= kChannels ? row[i - kChannels] : 0;
    const int up = above != nullptr ? above[i] : 0;
    const int corner = above != nullptr && i >= kChannels ? above[i - kChannels] : 0;
    const std::array<int, 5> guess{0, left, up, (left + up) / 2, paeth(left, up, corner)};
    out += static_cast<char>(row[i] - guess[static_cast<std::size_t>(filter)]);
  }
  return out;
}

/// The usual rule of thumb of the PNG standard: the row whose signed bytes add up to least.
std::string best_row(const unsigned char* row, const unsigned char* above, std::size_t bytes) {
  std::string best;
  long least = -1;
  for (int filter = 0; filter < 5; ++filter) {
    std::string tried = filtered_row(row, above, bytes, filter);
    long sum = 0;
    for (const char byte : tried) sum += std::abs(static_cast<signed char>(byte));
    if (least < 0 || sum < least) {
      least = sum;
      best = std::move(tried);
    }
  }
  return best;
}

std::string big_endian(std::uint32_t value) {
  std::string bytes;
  for (int shift = 24; shift >= 0; shift -= 8) bytes += static_cast<char>(value >> shift & 0xFFU);
  return bytes;
}

std::string chunk(const std::string& type, const std::string& data) {
  const std::string body = type + data;
  const uLong sum = crc32(0, reinterpret_cast<const Bytef*>(body.data()), static_cast<uInt>(body.size()));
  return big_endian(static_cast<std::uint32_t>(data.size())) + body +
         big_endian(static_cast<std::uint32_t>(sum));
}

}  // namespace

std::string filtered_rows(const SheetPicture& picture) {
  const std::size_t bytes = kChannels * static_cast<std::size_t>(picture.width);
  std::string rows;
  rows.reserve((bytes + 1) * static_cast<std::size_t>(picture.height));
  for (int y = 0; y < picture.height; ++y) {
    const unsigned char* row = picture.rgb.data() + bytes * static_cast<std::size_t>(y);
    rows += best_row(row, y > 0 ? row - bytes : nullptr, bytes);
  }
  return rows;
}

std::string png_from(const SheetPicture& picture) {
  const std::string header = big_endian(static_cast<std::uint32_t>(picture.width)) +
                             big_endian(static_cast<std::uint32_t>(picture.height)) +
                             std::string("\x08\x02\x00\x00\x00", 5);
  return "\x89PNG\r\n\x1A\n" + chunk("IHDR", header) +
         chunk("iCCP", std::string("photo\0\0", 7) + deflated(*picture.profile)) +
         chunk("IDAT", deflated(filtered_rows(picture))) + chunk("IEND", "");
}

}  // namespace kithue
