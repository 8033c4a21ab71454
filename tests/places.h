// SPDX-License-Identifier: MIT
#pragma once

/// Where the tests find what they read and run: absolute paths, fixed when the build is configured.
namespace kithue::tests {

extern const char* const kTestData;   ///< tests/data
extern const char* const kSourceDir;  ///< the top of the tree
extern const char* const kProgram;    ///< the built kithue

}  // namespace kithue::tests
