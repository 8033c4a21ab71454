// SPDX-License-Identifier: MIT
#pragma once

#include <string>

#include "swatch/stash.h"

namespace kithue {

/// A swatch with one reading, for tests.
inline Swatch swatch_with(int id, const std::string& name, Kind kind, const Lab& lab) {
  Swatch swatch;
  swatch.id = id;
  swatch.name = name;
  swatch.kind = kind;
  Reading reading;
  reading.lab = lab;
  swatch.readings = {reading};
  return swatch;
}

}  // namespace kithue
