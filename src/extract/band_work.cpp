// SPDX-License-Identifier: MIT
#include "extract/band_work.h"

#include <array>

#include "extract/band_kernel.h"

namespace kithue::extract {

#if defined(__x86_64__)
extern const BandWork kBandWorkAvx2;
#endif

namespace {

constexpr BandWork kBaseline = BandKernel::work("baseline");

struct Variants {
  std::array<const BandWork*, 2> known{&kBaseline, nullptr};
  std::size_t count = 1;
};

Variants find_variants() noexcept {
  Variants out;
#if defined(__x86_64__)
  if (__builtin_cpu_supports("avx2")) out.known[out.count++] = &kBandWorkAvx2;
#endif
  return out;
}

}  // namespace

std::span<const BandWork* const> band_work_variants() noexcept {
  static const Variants variants = find_variants();
  return {variants.known.data(), variants.count};
}

const BandWork& band_work() noexcept {
  return *band_work_variants().back();
}

}  // namespace kithue::extract
