// SPDX-License-Identifier: MIT
#pragma once

#include <string>

#include "sheet/page.h"

namespace kithue {

/// The rows of a picture, each under the PNG filter that makes it smallest by the usual rule of thumb, with
/// the filter's number in front: what both PNG and the PDF predictor 15 compress.
/// Source: ISO/IEC 15948, section 9 and 12.8.
std::string filtered_rows(const SheetPicture& picture);

/// The picture as a PNG file, 8 bits RGB, with its ICC profile. Source: ISO/IEC 15948.
std::string png_from(const SheetPicture& picture);

}  // namespace kithue
