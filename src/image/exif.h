// SPDX-License-Identifier: MIT
#pragma once

#include <string>
#include <string_view>

namespace kithue {

/// The little of EXIF that matters here.
struct ExifFacts {
  int orientation = 1;  ///< 1-8; what is missing, malformed or out of range reads as 1
  bool adobe_rgb =
      false;          ///< ColorSpace 65535 with interoperability index R03: the optional space of DCF 2.0
  std::string day;    ///< of DateTimeOriginal as ISO 8601, or empty; ten digits and dashes, not looked up
  std::string fault;  ///< "the EXIF data is damaged at its byte 12: ..."; empty when it is not
};

/// Reads a TIFF structure of either byte order, never outside `tiff`. What is damaged gives the defaults and
/// is told. Source: CIPA DC-008-2019 (tags 274, 36867, 40961, 40965) and DC-009 (DCF 2.0, R03).
ExifFacts read_exif(std::string_view tiff);

}  // namespace kithue
