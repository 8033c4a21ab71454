// SPDX-License-Identifier: MIT
#pragma once

#include <cstddef>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

namespace kithue {

/// What a column of an import holds. The order is that of the table in import_columns.cpp.
enum class Role {
  L,
  a,
  b,
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
  std::vector<Role> roles;  ///< one a column
  std::string clash;        ///< two columns for one number ("L* and CIE L"), or empty

  [[nodiscard]] std::optional<std::size_t> at(Role role) const;
  [[nodiscard]] bool has_lab() const { return at(Role::L) && at(Role::a) && at(Role::b); }
  /// An export of ours: its numbers are under D50 already, and `white` is what they were given under.
  [[nodiscard]] bool own() const { return at(Role::swatch_id) && at(Role::adapted); }
};

/// Roles by header names in any spelling: "L*", "CIE L", "LAB_L" and "l" are one.
Columns columns_from(std::vector<std::string> names);

/// "D65/10" from free text that names both ("ILLUMINANT, D65" "OBSERVER, 10 degree"), or nothing.
std::optional<std::string> white_in_text(std::string_view text);

}  // namespace kithue
