// SPDX-License-Identifier: MIT
#pragma once

#include <string>

#include "base/result.h"
#include "sheet/page.h"

namespace kithue {

/// The document as a PDF 1.7 file at exact physical size: swatches in the /Lab colour space under D50,
/// pictures with their ICC profiles, fonts cut down and embedded, text that can be searched and copied,
/// tagged with title, language and reading order, and a wish that printers do not scale it.
/// No clock and no chance in it: the same document gives the same bytes.
/// Source: ISO 32000-1:2008. Errors: internal.
Result<std::string> pdf_from(const Document& document);

}  // namespace kithue
