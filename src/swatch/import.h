// SPDX-License-Identifier: MIT
#pragma once

#include <cstddef>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "base/result.h"
#include "swatch/stash.h"

namespace kithue {

/// What a file does not say for itself. Columns of the file win over these.
struct ImportOptions {
  std::optional<Kind> kind;
  std::string method;
  std::string white;  ///< "D65/10"
  std::string batch;
  std::string source;
  std::string date;                    ///< ISO 8601, of readings that have none
  Dryness dryness = Dryness::unknown;  ///< of readings that do not say
};

/// A row that was not taken: where, what stood there, why not.
struct Rejection {
  std::size_t line = 0;
  std::string column;
  std::string value;
  std::string reason;
  bool is_row = true;  ///< false for a fault of the whole file, such as a count that does not fit
};

/// One row of the file that can be stored.
struct ImportRow {
  std::size_t line = 0;
  Swatch swatch;  ///< without readings; id 0 unless the file is an export of a stash
  std::optional<Reading> reading;
};

/// A file of readings, understood.
struct Import {
  std::vector<ImportRow> rows;
  std::vector<Rejection> rejected;    ///< in order of line
  std::vector<std::string> warnings;  ///< repairs, columns kept as notes, whites converted
  int next_id = 0;                    ///< of a whole stash file; 0 otherwise
  /// How many rows were in the file: those that can be stored and those rejected.
  [[nodiscard]] std::size_t row_count() const;
};

/// Reads CSV (comma, semicolon or tab; decimal comma; UTF-8 or UTF-16; header found by name in any order) or
/// CGATS, told by content, with Lab, XYZ or reflectance spectra (1 to 20 nm, any range that covers nine
/// tenths of the light). Columns it does not know become the reading's note. A Lab under another white is
/// adapted, or integrated again where there is a spectrum, and the reading says so. Nothing is guessed: a row
/// without a white or a kind is rejected. Errors: bad_input for a file that cannot be understood at all.
Result<Import> read_import(std::string bytes, const std::string& name, const ImportOptions& options);

/// What putting an import into a stash did.
struct ImportCount {
  std::size_t new_swatches = 0;
  std::size_t new_readings = 0;
  std::size_t already_there = 0;  ///< rows that the stash holds already
  std::vector<int> changed;       ///< ids of the swatches that are new or have new readings
};

/// Adds what is new. Rows of one name, kind and method are readings of one swatch. The same file twice adds
/// nothing: a reading that the stash holds as often as the file is not added again.
ImportCount merge_import(Stash& stash, const Import& import);

}  // namespace kithue
