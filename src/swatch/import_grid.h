// SPDX-License-Identifier: MIT
#pragma once

#include <cstddef>
#include <functional>
#include <string>

#include "swatch/import.h"
#include "swatch/import_columns.h"
#include "swatch/import_facts.h"
#include "swatch/import_spectral.h"

namespace kithue {

/// A table from either kind of file.
struct Grid {
  Columns columns;
  std::size_t rows = 0;
  std::function<std::string(std::size_t row, std::size_t column)> text;
  std::function<std::size_t(std::size_t row)> line;
  std::function<bool(std::size_t row)> too_long;
  FileFacts facts;             ///< from the file's header
  bool guarded = false;        ///< text cells may carry a spreadsheet guard
  bool comma_allowed = false;  ///< numbers may have a decimal comma
  SpectralColumns spectra;     ///< empty without spectra; set by read_rows()
  double xyz_white = 100.0;    ///< the Y of white on the file's scale; set by read_rows()
};

/// Every row of the table becomes a row or a rejection of the import; repairs and conversions its warnings.
/// Errors: bad_input for columns that make no sense together (a spectrum with a gap).
MaybeError read_rows(Grid& grid, const ImportOptions& options, Import& import);

/// Finds the wavelengths, and what white is written as in spectra and XYZ. Errors: those of read_rows().
MaybeError settle_scales(Grid& grid, Import& import);

/// Numbers as spreadsheets write them: a minus sign of print, no-break spaces, where allowed a decimal comma.
std::optional<double> loose_number(std::string_view text, bool comma_allowed);
/// True for a number with one comma and no point.
bool has_decimal_comma(std::string_view text);

/// The error for columns.clash, which is not empty.
Error two_columns(const std::string& name, std::size_t line, const Columns& columns);

/// The two kinds of file, as UTF-8. Errors as of read_import().
Result<Import> read_csv_import(const std::string& text, const std::string& name,
                               const ImportOptions& options);
Result<Import> read_cgats_import(std::string text, const std::string& name, const ImportOptions& options);

}  // namespace kithue
