// SPDX-License-Identifier: MIT
#pragma once

#include <cstddef>
#include <map>
#include <string>

#include "swatch/import.h"

namespace kithue {

/// What happened over all rows of a file, for the warnings of its import.
struct Tally {
  std::map<std::string, std::size_t> adapted;  ///< readings by the white they came from
  std::size_t integrated = 0;
  std::size_t disagree = 0;  ///< Lab and spectrum of a row tell different colours
  std::size_t first_disagreeing = 0;
  std::string beyond;  ///< the range of spectra that were taken level beyond their ends

  void count(const Reading& reading);
  void tell(Import& import) const;
};

}  // namespace kithue
