// SPDX-License-Identifier: MIT
#include "colour/difference_batch.h"

#include <algorithm>
#include <array>
#include <cassert>
#include <cmath>
#include <limits>

#include "colour/difference_kernel.h"

namespace kithue {

namespace kernel {
namespace {

// Two lanes are in the baseline of 64-bit x86 and ARM; elsewhere the compiler makes scalars of them.
struct Ops {
  typedef double V __attribute__((vector_size(16)));  // NOLINT(modernize-use-using)
  static V sqrt(V x) { return V{__builtin_sqrt(x[0]), __builtin_sqrt(x[1])}; }
};

}  // namespace

void run_two_lanes(const LabColumns::Row& from, const double* L, const double* a, const double* b,
                   const double* C, std::size_t count, double* out) noexcept {
  run<Ops>(from, L, a, b, C, count, out);
}

}  // namespace kernel

namespace {

constexpr std::size_t kBlock = 8;  // the widest variant

std::size_t in_blocks(std::size_t count) noexcept {
  return (count + kBlock - 1) / kBlock * kBlock;
}

struct Variants {
  std::array<BatchVariant, 3> known{};
  std::size_t count = 0;
};

Variants find_variants() noexcept {
  Variants out;
  const auto add = [&out](const BatchVariant& variant) { out.known[out.count++] = variant; };
  add({"two lanes", kernel::run_two_lanes});
#if defined(__x86_64__)
  if (__builtin_cpu_supports("avx2")) add({"AVX2", kernel::run_avx2});
  if (__builtin_cpu_supports("avx512f")) add({"AVX-512", kernel::run_avx512});
#endif
  return out;
}

void differences(const LabColumns::Row& from, const LabColumns& many, double* out) noexcept {
  const auto run = batch_variants().back().run;
  const std::size_t whole = many.size() / kBlock * kBlock;
  if (whole > 0) run(from, many.L(), many.a(), many.b(), many.C(), whole, out);
  if (whole == many.size()) return;
  std::array<double, kBlock> rest{};
  run(from, many.L() + whole, many.a() + whole, many.b() + whole, many.C() + whole, kBlock, rest.data());
  std::copy_n(rest.begin(), many.size() - whole, out + whole);
}

}  // namespace

LabColumns::LabColumns(std::span<const Lab> colours) : size_(colours.size()) {
  for (std::vector<double>* column : {&L_, &a_, &b_, &C_}) column->resize(in_blocks(size_));
  for (std::size_t i = 0; i < size_; ++i) {
    const Row row = row_from(colours[i]);
    L_[i] = row.L;
    a_[i] = row.a;
    b_[i] = row.b;
    C_[i] = row.C;
  }
}

LabColumns::Row LabColumns::row_from(const Lab& lab) noexcept {
  constexpr double kMost = 1e30;  // as in difference.cpp
  if (!std::isfinite(lab.L) || !std::isfinite(lab.a) || !std::isfinite(lab.b)) {
    return {std::numeric_limits<double>::quiet_NaN(), 0.0, 0.0, 0.0};
  }
  const double a = std::clamp(lab.a, -kMost, kMost);
  const double b = std::clamp(lab.b, -kMost, kMost);
  return {std::clamp(lab.L, -kMost, kMost), a, b, std::sqrt(a * a + b * b)};
}

std::span<const BatchVariant> batch_variants() noexcept {
  static const Variants variants = find_variants();
  return {variants.known.data(), variants.count};
}

void ciede2000_batch(const Lab& from, const LabColumns& many, std::span<double> out) noexcept {
  assert(out.size() == many.size());
  differences(LabColumns::row_from(from), many, out.data());
}

void ciede2000_matrix(const LabColumns& rows, const LabColumns& columns, std::span<double> out) noexcept {
  assert(out.size() == rows.size() * columns.size());
  for (std::size_t i = 0; i < rows.size(); ++i) {
    differences(rows.row(i), columns, out.data() + i * columns.size());
  }
}

}  // namespace kithue
