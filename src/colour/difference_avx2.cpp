// SPDX-License-Identifier: MIT
// Compiled with options of its own (src/CMakeLists.txt): only difference_batch.cpp may call this, after
// asking the machine.
#if defined(__x86_64__)
#include <immintrin.h>

#include "colour/difference_kernel.h"

namespace kithue::kernel {
namespace {

struct Ops {
  typedef double V __attribute__((vector_size(32)));  // NOLINT(modernize-use-using)
  static V sqrt(V x) { return _mm256_sqrt_pd(x); }
};

}  // namespace

void run_avx2(const LabColumns::Row& from, const double* L, const double* a, const double* b, const double* C,
              std::size_t count, double* out) noexcept {
  run<Ops>(from, L, a, b, C, count, out);
}

}  // namespace kithue::kernel
#endif
