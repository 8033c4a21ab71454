// SPDX-License-Identifier: MIT
#include "sheet/pdf_picture.h"

#include <map>

#include "sheet/picture_rows.h"

namespace kithue {

std::vector<int> write_pictures(PdfObjects& objects, const std::vector<SheetPicture>& pictures) {
  std::map<std::string, int> profiles;
  std::vector<int> numbers;
  for (const SheetPicture& picture : pictures) {
    auto [profile, is_new] = profiles.try_emplace(*picture.profile, 0);
    if (is_new) profile->second = objects.add_stream("/N 3 /Alternate /DeviceRGB", *picture.profile);
    std::string entries = "/Type /XObject /Subtype /Image /BitsPerComponent 8";
    entries += " /Width " + std::to_string(picture.width);
    entries += " /Height " + std::to_string(picture.height);
    entries += " /ColorSpace [/ICCBased " + pdf_reference(profile->second) + "]";
    entries += " /DecodeParms << /Predictor 15 /Colors 3 /BitsPerComponent 8 /Columns " +
               std::to_string(picture.width) + " >>";
    numbers.push_back(objects.add_stream(entries, filtered_rows(picture)));
  }
  return numbers;
}

}  // namespace kithue
