// SPDX-License-Identifier: MIT
#pragma once

#include <span>
#include <string_view>

namespace kithue::extract {

/// Bands of plain light side by side, smeared by a distribution near to the normal one (its first terms of a
/// Gram-Charlier series), then coded as JPEG does.
struct BandModel {
  static constexpr int kMostEdges = 4;
  int edges = 0;                        ///< 1 to kMostEdges; one light more
  float light[kMostEdges + 1][3] = {};  ///< from left to right, in the picture's own primaries
  float edge[kMostEdges] = {};          ///< pixels, rising
  float by_sharp = 1.0F;                ///< 1 / standard deviation
  float excess = 0.0F;    ///< excess kurtosis: above 0 the smear has a sharp core and long tails
  float stepped = 0.0F;   ///< 0 to 1: as far, an edge is straight between half pixels from where it lies
  float by_nodes = 1.0F;  ///< 1 / standard deviation of what it is there
  /// What can be varied: the three amounts of every light but the outer two, then the edges.
  [[nodiscard]] int free() const noexcept { return 3 * (edges - 1) + edges; }
};

/// Work on many places at a time. As RowWork: the same bits in each way of doing it.
struct BandWork {
  std::string_view name;  ///< "baseline", "AVX2"

  /// Rows of `count` floats (a multiple of 8), one after the other: Y', Cb' and Cr' of the model at the
  /// places `at`, and, `with_slopes`, those three for what each free number adds when it grows. The normal
  /// distribution is within 1e-7 (Abramowitz & Stegun 26.2.17), the coding (IEC 61966-2-1) within 4e-7.
  void (*rows)(const BandModel& model, const float* at, int count, bool with_slopes, float* rows);

  /// out[i] = sum over d of taps[16 * i + d] * in[first[i] + d], 16 taps each.
  void (*spread)(const float* in, const int* first, const float* taps, int count, float* out);

  /// Weighted sums of products of every two rows, the lower triangle row by row, into `sums`. `rows` lie
  /// `count` floats (a multiple of 8) apart.
  void (*products)(const float* weight, const float* rows, int row_count, int count, float* sums);
};

/// Those that this machine can run, slowest first; for tests.
std::span<const BandWork* const> band_work_variants() noexcept;
/// The last of them.
const BandWork& band_work() noexcept;

}  // namespace kithue::extract
