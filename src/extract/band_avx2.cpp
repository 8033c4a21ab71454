// SPDX-License-Identifier: MIT
// Compiled with options of its own (src/CMakeLists.txt): only band_work.cpp may call this, after asking the
// machine.
#if defined(__x86_64__)
#include "extract/band_kernel.h"

namespace kithue::extract {

extern const BandWork kBandWorkAvx2;
constinit const BandWork kBandWorkAvx2 = BandKernel::work("AVX2");

}  // namespace kithue::extract
#endif
