// SPDX-License-Identifier: MIT
#pragma once

#include <cstddef>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

namespace kithue {

/// What a column of an import holds. The order is that of the table in import_columns.cpp.
enum class ColumnRole {
  L,
  a,
  b,
  X,
  Y,
  Z,
  name,
  kind,
  method,
  white,
  illuminant,
  observer,
  batch,
  date,
  source,
  surface,
  condition,
  backing,
  geometry,
  note,
  finish,
  retired,
  in_stock,
  dryness,
  error,
  // only in our own exports
  swatch_id,
  shelf_batch,
  swatch_surface,
  swatch_note,
  adapted,
  start_nm,
  step_nm,
  bands,
  spectral,
  other
};

/// The columns of one file by their roles.
struct Columns {
  std::vector<std::string> names;
  std::vector<ColumnRole> roles;  ///< one a column
  std::string clash;              ///< two columns for one number ("L* and CIE L"), or empty
  std::string white;              ///< "D65/10" when the names of the numbers say so: "L*(10/D65)"

  [[nodiscard]] std::optional<std::size_t> at(ColumnRole role) const;
  [[nodiscard]] std::vector<std::size_t> all(ColumnRole role) const;
  [[nodiscard]] bool has_lab() const { return at(ColumnRole::L) && at(ColumnRole::a) && at(ColumnRole::b); }
  [[nodiscard]] bool has_xyz() const { return at(ColumnRole::X) && at(ColumnRole::Y) && at(ColumnRole::Z); }
  [[nodiscard]] bool has_spectra() const { return all(ColumnRole::spectral).size() >= 3; }
  [[nodiscard]] bool has_colour() const { return has_lab() || has_xyz() || has_spectra(); }
  /// An export of ours: its numbers are under D50 already, and `white` is what they were given under.
  [[nodiscard]] bool own() const { return at(ColumnRole::swatch_id) && at(ColumnRole::adapted); }
};

/// Roles by header names in any spelling: "L*", "CIE L", "LAB_L" and "l" are one. What stands in brackets at
/// the end is a white ("L*(D65/10)") or a unit and left out.
Columns columns_from(std::vector<std::string> names);

}  // namespace kithue
