// SPDX-License-Identifier: MIT
#include "sheet/pdf_picture.h"

#include <array>
#include <cstdlib>
#include <map>

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

}  // namespace

std::vector<int> write_pictures(PdfObjects& objects, const std::vector<SheetPicture>& pictures) {
  std::map<std::string, int> profiles;
  std::vector<int> numbers;
  for (const SheetPicture& picture : pictures) {
    auto [profile, is_new] = profiles.try_emplace(*picture.profile, 0);
    if (is_new) profile->second = objects.add_stream("/N 3 /Alternate /DeviceRGB", *picture.profile);
    const std::size_t bytes = kChannels * static_cast<std::size_t>(picture.width);
    std::string rows;
    for (int y = 0; y < picture.height; ++y) {
      const unsigned char* row = picture.rgb.data() + bytes * static_cast<std::size_t>(y);
      rows += best_row(row, y > 0 ? row - bytes : nullptr, bytes);
    }
    std::string entries = "/Type /XObject /Subtype /Image /BitsPerComponent 8";
    entries += " /Width " + std::to_string(picture.width);
    entries += " /Height " + std::to_string(picture.height);
    entries += " /ColorSpace [/ICCBased " + pdf_reference(profile->second) + "]";
    entries += " /DecodeParms << /Predictor 15 /Colors 3 /BitsPerComponent 8 /Columns " +
               std::to_string(picture.width) + " >>";
    numbers.push_back(objects.add_stream(entries, rows));
  }
  return numbers;
}

}  // namespace kithue
