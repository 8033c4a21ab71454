// SPDX-License-Identifier: MIT
#include <algorithm>

#include "base/text.h"
#include "colour/spectrum.h"
#include "swatch/import_grid.h"

namespace kithue {
namespace {

/// The largest number in some columns; 0 when there is none.
double largest(const Grid& grid, const std::vector<std::size_t>& columns) {
  double most = 0.0;
  for (std::size_t row = 0; row < grid.rows; ++row) {
    for (const std::size_t column : columns)
      most = std::max(most, loose_number(grid.text(row, column), grid.comma_allowed).value_or(0.0));
  }
  return most;
}

}  // namespace

MaybeError settle_scales(Grid& grid, Import& import) {
  if (grid.columns.own()) return std::nullopt;
  if (grid.columns.has_spectra()) {
    grid.spectra = spectral_columns(grid.columns.names, grid.columns.all(ColumnRole::spectral));
    Reading range;
    range.start_nm = grid.spectra.start_nm;
    range.step_nm = grid.spectra.step_nm;
    range.spectrum.assign(grid.spectra.columns.size(), 0.0);
    const double beyond =
        grid.spectra.trouble.empty() ? share_beyond({range.spectrum, range.start_nm, range.step_nm}) : 0.0;
    if (beyond > kMostBeyond) {
      grid.spectra.trouble = "the spectra run from " + range_words(range) +
                             " only: " + fixed_number(100.0 * beyond, 0) + " % of the light lies beyond them";
    }
    if (!grid.spectra.trouble.empty() && !grid.columns.has_lab() && !grid.columns.has_xyz())
      return Error{ErrorKind::bad_input, grid.spectra.trouble, "", "export the spectra again, every band"};
    if (!grid.spectra.trouble.empty()) {
      import.warnings.push_back("the spectra were left out: " + grid.spectra.trouble);
      grid.spectra.columns.clear();
    } else if (grid.facts.whole) {
      grid.spectra.whole = *grid.facts.whole;
    } else if (largest(grid, grid.spectra.columns) > kMostFactor) {
      grid.spectra.whole = 100.0;
      import.warnings.emplace_back("the spectra were taken as percent");
    }
  }
  if (grid.columns.has_xyz() && !grid.columns.has_lab()) {
    const double most = largest(grid, {*grid.columns.at(ColumnRole::Y)});
    if (most <= 1.1) {
      grid.xyz_white = 1.0;
      import.warnings.push_back("the largest Y is " + exact_number(most) +
                                ": XYZ was taken on the scale where white is 1");
    }
  }
  return std::nullopt;
}

}  // namespace kithue
