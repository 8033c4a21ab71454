// SPDX-License-Identifier: MIT
#pragma once

#include <cstddef>
#include <span>
#include <string_view>
#include <vector>

#include "colour/lab.h"

namespace kithue {

/// Many colours laid out for the batch: a column a coordinate. Four doubles a colour.
class LabColumns {
 public:
  LabColumns() = default;
  explicit LabColumns(std::span<const Lab> colours);

  [[nodiscard]] std::size_t size() const noexcept { return size_; }

  /// One colour as the batch sees it: coordinates held within +-1e30, L a NaN where any was not finite.
  struct Row {
    double L = 0.0, a = 0.0, b = 0.0, C = 0.0;
  };
  [[nodiscard]] Row row(std::size_t i) const noexcept { return {L_[i], a_[i], b_[i], C_[i]}; }
  static Row row_from(const Lab& lab) noexcept;

  [[nodiscard]] const double* L() const noexcept { return L_.data(); }
  [[nodiscard]] const double* a() const noexcept { return a_.data(); }
  [[nodiscard]] const double* b() const noexcept { return b_.data(); }
  [[nodiscard]] const double* C() const noexcept { return C_.data(); }  ///< chroma

 private:
  std::size_t size_ = 0;  // the columns are longer: filled up with zeros to whole blocks
  std::vector<double> L_, a_, b_, C_;
};

/// CIEDE2000 from one colour to many: out[i] is the difference to colour i.
///
/// The same formula as ciede2000() with the angles done in algebra, 2 to 8 colours at a time.
/// Error:   at most 1e-9 from ciede2000() for coordinates within +-1000 (measured: 2.1e-11 over 110 million
///          pairs); beyond, at most 1e-9 of the value. Exact where ciede2000() is: 0 from a colour to itself,
///          the same bits when the two are swapped, NaN for a NaN or an infinity and for nothing else.
///          At the formula's own jumps (hues 180 degrees apart, mean hue past 360) both count the nearest
///          1e-9 degree to the same side; a pair within rounding of that line may fall to either.
/// Bits:    the same on every machine and for every way of laning (batch_variants): each does the same
///          additions, multiplications, divisions and square roots in the same order, which IEEE 754 rounds
///          in one way; no fused operations, no library functions, no sums across lanes.
/// REQUIRES: out.size() == many.size().
void ciede2000_batch(const Lab& from, const LabColumns& many, std::span<double> out) noexcept;

/// All pairs: out[i * columns.size() + j] is the difference between row i and column j.
/// REQUIRES: out.size() == rows.size() * columns.size().
void ciede2000_matrix(const LabColumns& rows, const LabColumns& columns, std::span<double> out) noexcept;

/// One way of doing the batch. ciede2000_batch uses the last that this machine has.
struct BatchVariant {
  std::string_view name;  ///< "two lanes", "AVX2", "AVX-512"
  /// Differences from one row to the `count` rows at the columns. REQUIRES: count is a multiple of 8.
  void (*run)(const LabColumns::Row& from, const double* L, const double* a, const double* b, const double* C,
              std::size_t count, double* out) noexcept;
};
/// Those that this machine can run, slowest first; for tests and benches.
std::span<const BatchVariant> batch_variants() noexcept;

}  // namespace kithue
