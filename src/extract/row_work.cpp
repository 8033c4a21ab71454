// SPDX-License-Identifier: MIT
#include "extract/row_work.h"

#include <array>

#include "extract/row_kernel.h"

namespace kithue::extract {

#if defined(__x86_64__)
extern const RowWork kRowWorkAvx2;
#endif

namespace {

constexpr RowWork kBaseline = RowKernel::work("baseline");

struct Variants {
  std::array<const RowWork*, 2> known{&kBaseline, nullptr};
  std::size_t count = 1;
};

Variants find_variants() noexcept {
  Variants out;
#if defined(__x86_64__)
  if (__builtin_cpu_supports("avx2")) out.known[out.count++] = &kRowWorkAvx2;
#endif
  return out;
}

}  // namespace

std::span<const RowWork* const> row_work_variants() noexcept {
  static const Variants variants = find_variants();
  return {variants.known.data(), variants.count};
}

const RowWork& row_work() noexcept {
  return *row_work_variants().back();
}

}  // namespace kithue::extract
