// SPDX-License-Identifier: MIT
#pragma once

#include <cstddef>
#include <cstdint>
#include <cstdlib>
#include <string>

#include "swatch/import.h"
#include "swatch/stash_file.h"

namespace kithue::fuzz {

/// Reads any bytes as a file of readings. What is taken must survive the stash file; stops the process if
/// not.
inline void readings(const std::uint8_t* data, std::size_t size) {
  const ImportOptions options{Kind::stock, "", "D50/2", "", "", "", Dryness::unknown};
  const auto import = read_import(std::string(data, data + size), "fuzz", options);
  if (!import) return;
  Stash stash;
  merge_import(stash, *import);
  const auto back = parse_stash(stash_text(stash), "fuzz");
  if (!back || !(*back == stash)) std::abort();
}

}  // namespace kithue::fuzz
