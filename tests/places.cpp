// SPDX-License-Identifier: MIT
#include "places.h"

namespace kithue::tests {

const char* const kTestData = KITHUE_TEST_DATA;
const char* const kSourceDir = KITHUE_SOURCE_DIR;
const char* const kProgram = KITHUE_PROGRAM;

}  // namespace kithue::tests
