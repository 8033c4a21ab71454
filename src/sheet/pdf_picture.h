// SPDX-License-Identifier: MIT
#pragma once

#include <vector>

#include "sheet/page.h"
#include "sheet/pdf_objects.h"

namespace kithue {

/// Writes the pictures and their ICC profiles, each profile once; the numbers of the picture objects.
/// Lossless: rows are predicted with the PNG filters. Source: ISO 32000-1:2008, 7.4.4.4, 8.6.5.5, 8.9.5.
std::vector<int> write_pictures(PdfObjects& objects, const std::vector<SheetPicture>& pictures);

}  // namespace kithue
