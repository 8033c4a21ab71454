// SPDX-License-Identifier: MIT
// Compiled with options of its own (src/CMakeLists.txt): only row_work.cpp may call this, after asking the
// machine.
#if defined(__x86_64__)
#include "extract/row_kernel.h"

namespace kithue::extract {

extern const RowWork kRowWorkAvx2;
constinit const RowWork kRowWorkAvx2 = RowKernel::work("AVX2");

}  // namespace kithue::extract
#endif
