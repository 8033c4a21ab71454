// SPDX-License-Identifier: MIT
#pragma once

#include <cstddef>
#include <optional>
#include <string>
#include <utility>
#include <vector>

#include "colour/lab.h"
#include "sheet/page.h"

namespace kithue {

/// Columns and rows of the patches on the printer check page.
inline constexpr std::size_t kCheckColumns = 6;
inline constexpr std::size_t kCheckRows = 8;

/// The colours of the patches in reading order, patch 1 first: eight greys, then eight hues in five tones,
/// all of which a screen can show. The list never changes: readings of an old print can be read back.
std::vector<Lab> printer_patches();

/// Patches to print and measure, numbered as `measure --grid 6x8` numbers them.
Document lay_out_printer_check(PageSize size);

/// How far a printer is off, from readings of its check page.
struct PrinterError {
  std::size_t patches = 0;      ///< how many were read
  double mean = 0.0;            ///< dE00
  double worst = 0.0;           ///< dE00
  std::size_t worst_patch = 0;  ///< its number, from 1
};
/// `readings`: the number of a patch and its colour; those with another number are passed over, and of two
/// readings of a patch the mean distance counts. Nothing when no patch was read.
std::optional<PrinterError> printer_error(const std::vector<std::pair<std::size_t, Lab>>& readings);
/// "This printer, when checked: 2.9 off on average, 8.1 at most (dE00, 48 patches)."
std::string printer_note(const PrinterError& error);

}  // namespace kithue
