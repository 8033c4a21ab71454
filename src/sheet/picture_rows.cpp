// SPDX-License-Identifier: MIT
#include "sheet/picture_rows.h"

#include <zlib.h>

#include <algorithm>
#include <array>
#include <cstdint>
#include <cstdlib>
#include <vector>

#include "sheet/pdf_objects.h"

namespace kithue {
namespace {

constexpr std::size_t kChannels = 3;

constexpr std::size_t kFilters = 5;

int paeth(int left, int up, int corner) {
  const int dl = std::abs(up - corner);
  const int du = std::abs(left - corner);
  const int dc = std::abs(left + up - 2 * corner);
  const int nearest = du <= dc ? up : corner;
  return dl <= du && dl <= dc ? left : nearest;
}

/// A row under each of the five PNG filters (ISO/IEC 15948, section 9), and what their signed bytes add up
/// to.
struct FilteredRow {
  std::array<std::string, kFilters> bytes;
  std::array<long, kFilters> sums{};
};

void filter_row(const unsigned char* row, const unsigned char* above, std::size_t bytes, FilteredRow& out) {
  out.sums = {};
  for (std::string& filtered : out.bytes) filtered.resize(bytes);
  for (std::size_t i = 0; i < bytes; ++i) {
    const int left = i >= kChannels ? row[i - kChannels] : 0;
    const int up = above[i];
    const int corner = i >= kChannels ? above[i - kChannels] : 0;
    const std::array<int, kFilters> guess{0, left, up, (left + up) / 2, paeth(left, up, corner)};
    for (std::size_t filter = 0; filter < kFilters; ++filter) {
      const auto rest = static_cast<signed char>(row[i] - guess[filter]);
      out.bytes[filter][i] = static_cast<char>(rest);
      out.sums[filter] += std::abs(rest);
    }
  }
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
  const std::vector<unsigned char> nothing(bytes);  // what is above the first row
  std::string rows;
  rows.reserve((bytes + 1) * static_cast<std::size_t>(picture.height));
  FilteredRow filtered;
  for (int y = 0; y < picture.height; ++y) {
    const unsigned char* row = picture.rgb.data() + bytes * static_cast<std::size_t>(y);
    filter_row(row, y > 0 ? row - bytes : nothing.data(), bytes, filtered);
    const auto least = std::min_element(filtered.sums.begin(), filtered.sums.end()) - filtered.sums.begin();
    rows += static_cast<char>(least);
    rows += filtered.bytes[static_cast<std::size_t>(least)];
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
