// SPDX-License-Identifier: MIT
#pragma once

#include <string>

#include "base/result.h"
#include "cli/command.h"
#include "sheet/page.h"

namespace kithue {

/// What a sheet is written as.
enum class SheetFormat { pdf, svg, html };
std::string_view word_for(SheetFormat format) noexcept;  ///< "pdf", "svg", "html"

/// `wanted` when it is said, else the ending of the path, else PDF. Errors: bad_usage when the two differ or
/// the ending is of no format.
Result<SheetFormat> sheet_format(const std::string& wanted, const std::string& path);

/// "kit.toml" to "kit.pdf", or with a suffix "kit-pattern-strip.pdf".
std::string sheet_path(const std::string& kit_path, const std::string& suffix, SheetFormat format);

/// Draws the document and writes it to the path, or to standard output for "-". Warns of letters that no
/// font has. Errors: cannot_write.
MaybeError write_sheet(const Document& document, SheetFormat format, const std::string& path, bool force,
                       Session& session);

}  // namespace kithue
