// SPDX-License-Identifier: MIT
#include "cli/version.h"

namespace kithue {

std::string version_text() {
  return "kithue " KITHUE_VERSION " (stash format 1; colour: CIELAB D50 2 degree, CIEDE2000, Bradford)";
}

}  // namespace kithue
