// SPDX-License-Identifier: MIT
#include "base/result.h"

namespace kithue {

std::string describe(const Error& error) {
  std::string line;
  if (!error.where.empty()) line += error.where + ": ";
  line += error.what;
  if (!error.advice.empty()) line += " (" + error.advice + ")";
  return line;
}

}  // namespace kithue
