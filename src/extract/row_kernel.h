// SPDX-License-Identifier: MIT
#pragma once

// The loops of RowWork, written so that compilers make vectors of them; included once by each row_*.cpp,
// which are compiled for different machines. So nothing here may call the standard library: an inline
// function of it, compiled for AVX2, could be the copy that the linker keeps for everyone.

#include "extract/root.h"
#include "extract/row_work.h"

namespace kithue::extract {
namespace {

/// Of every file that includes it its own, so that none runs what another was compiled to.
struct RowKernel {
  static constexpr int kBlock = 64;
  static constexpr int kNotFlatTier = 4;
  static constexpr int kNone = 255;

  [[gnu::always_inline]] static inline int half(int d) {
    return (d - (d >> 31)) >> 1;  // towards 0
  }
  [[gnu::always_inline]] static inline int gap2_of(int L1, int a1, int b1, int L2, int a2, int b2) {
    const int dL = L1 - L2;
    const int da = half(a1 - a2);
    const int db = half(b1 - b2);
    return dL * dL + da * da + db * db;
  }
  [[gnu::always_inline]] static inline int larger(int x, int y) { return x > y ? x : y; }

  /// Rounded to the nearest whole number, halves to even, for |value| up to 32000.
  [[gnu::always_inline]] static inline std::int16_t rounded(float value) {
    value = value > 32000.0F ? 32000.0F : value;
    value = value < -32000.0F ? -32000.0F : value;
    constexpr float kShift = 12582912.0F;  // 1.5 * 2^23: from here a float counts in ones
    const float shifted = value + kShift;
    return static_cast<std::int16_t>(__builtin_bit_cast(int, shifted) - __builtin_bit_cast(int, kShift));
  }

  static void lab_from_light(const float* r, const float* g, const float* b, const LightMatrix& matrix,
                             std::size_t count, std::int16_t* L, std::int16_t* a, std::int16_t* out_b) {
    const LightMatrix m = matrix;
    constexpr auto kUnit = static_cast<float>(kSteps);
    for (std::size_t from = 0; from < count; from += kBlock) {
      const int n = count - from < kBlock ? static_cast<int>(count - from) : kBlock;
      float x[kBlock], y[kBlock], z[kBlock];
      for (int i = 0; i < n; ++i) {
        const float p = r[from + static_cast<std::size_t>(i)];
        const float q = g[from + static_cast<std::size_t>(i)];
        const float s = b[from + static_cast<std::size_t>(i)];
        x[i] = root_of(m.m[0][0] * p + m.m[0][1] * q + m.m[0][2] * s);
        y[i] = root_of(m.m[1][0] * p + m.m[1][1] * q + m.m[1][2] * s);
        z[i] = root_of(m.m[2][0] * p + m.m[2][1] * q + m.m[2][2] * s);
      }
      for (int i = 0; i < n; ++i) {
        L[from + static_cast<std::size_t>(i)] = rounded((116.0F * y[i] - 16.0F) * kUnit);
        a[from + static_cast<std::size_t>(i)] = rounded(500.0F * (x[i] - y[i]) * kUnit);
        out_b[from + static_cast<std::size_t>(i)] = rounded(200.0F * (y[i] - z[i]) * kUnit);
      }
    }
  }

  [[gnu::always_inline]] static inline void grow_one(std::int16_t* values, int n, float by, float zero) {
    for (int i = 0; i < n; ++i) values[i] = rounded((static_cast<float>(values[i]) + zero) * by - zero);
  }

  static void grow(const float* by, std::size_t count, std::int16_t* L, std::int16_t* a, std::int16_t* b) {
    constexpr std::size_t kRun = 32;
    for (std::size_t from = 0; from < count; from += kRun) {
      const int n = static_cast<int>(count - from < kRun ? count - from : kRun);
      grow_one(L + from, n, by[from / kRun], 16.0F * static_cast<float>(kSteps));
      grow_one(a + from, n, by[from / kRun], 0.0F);
      grow_one(b + from, n, by[from / kRun], 0.0F);
    }
  }

  /// The gaps of n cells of a row from x on to those of another from other_x on; the larger of these and what
  /// is there already is kept.
  [[gnu::always_inline]] static inline void widest(const CellRow& row, int x, const CellRow& other,
                                                   int other_x, int n, int* most) {
    for (int i = 0; i < n; ++i) {
      most[i] = larger(most[i], gap2_of(row.L[x + i], row.a[x + i], row.b[x + i], other.L[other_x + i],
                                        other.a[other_x + i], other.b[other_x + i]));
    }
  }

  /// How much the cells from x on differ from what lies a few cells off.
  [[gnu::always_inline]] static inline void contrast_of(const FlatRows& rows, int width, int x, int n,
                                                        int* contrast) {
    const CellRow* const others[3] = {&rows.far_above, &rows.here, &rows.far_below};
    const bool inside = x >= kFarOff && x + n + kFarOff <= width;
    for (const CellRow* other : others) {
      widest(rows.here, x, *other, x, n, contrast);
      if (inside) {
        widest(rows.here, x, *other, x - kFarOff, n, contrast);
        widest(rows.here, x, *other, x + kFarOff, n, contrast);
        continue;
      }
      for (int i = 0; i < n; ++i) {
        const int left = larger(x + i - kFarOff, 0);
        const int right = x + i + kFarOff < width ? x + i + kFarOff : width - 1;
        widest(rows.here, x + i, *other, left, 1, contrast + i);
        widest(rows.here, x + i, *other, right, 1, contrast + i);
      }
    }
  }

  static void judge_flat(const FlatRows& rows, int width, const int* limit2, std::uint8_t* tiers) {
    constexpr int kFlatter2 = 40;  // flatter than the step to what lies a few cells off
    const int first = limit2[0];
    const int second = limit2[1];
    const int third = limit2[2];
    const int last = limit2[3];
    for (int x = 1; x + 1 < width; x += kBlock) {
      const int n = width - 1 - x < kBlock ? width - 1 - x : kBlock;
      int steep[kBlock] = {};
      widest(rows.here, x, rows.here, x - 1, n, steep);
      widest(rows.here, x, rows.here, x + 1, n, steep);
      widest(rows.here, x, rows.above, x, n, steep);
      widest(rows.here, x, rows.below, x, n, steep);
      int between = 0;
      for (int i = 0; i < n; ++i)
        between |= static_cast<int>(steep[i] > first) & static_cast<int>(steep[i] <= last);
      if (between == 0) {
        for (int i = 0; i < n; ++i)
          tiers[x + i] = static_cast<std::uint8_t>(steep[i] > first ? kNotFlatTier : 0);
        continue;
      }
      int contrast[kBlock] = {};
      contrast_of(rows, width, x, n, contrast);
      for (int i = 0; i < n; ++i) {
        const int s = steep[i];
        const int held = s < last ? s : last;  // so that the product stays inside an int
        const int tier = 1 + static_cast<int>(s > second) + static_cast<int>(s > third);
        const bool none = (s > last) | (held * kFlatter2 > contrast[i]);
        tiers[x + i] = static_cast<std::uint8_t>(s <= first ? 0 : none ? kNotFlatTier : tier);
      }
    }
  }

  /// Whether n flat cells from x on are all so near to one target that none is nearer.
  [[gnu::always_inline]] static inline bool all_near(const CellRow& row, const std::uint8_t* tiers, int x,
                                                     int n, const Targets& targets, int k, int most2) {
    if (targets.alone2 == nullptr) return false;
    const int limit = targets.alone2[k] < most2 ? targets.alone2[k] : most2;
    const int L = targets.L[k];
    const int a = targets.a[k];
    const int b = targets.b[k];
    int off = 0;
    for (int i = 0; i < n; ++i) {
      const int d = gap2_of(row.L[x + i], row.a[x + i], row.b[x + i], L, a, b);
      off |= static_cast<int>(d >= limit) | static_cast<int>(tiers[x + i] == kNotFlatTier);
    }
    return off == 0;
  }

  static void nearest(const CellRow& row, const std::uint8_t* tiers, int width, const Targets& targets,
                      std::size_t small, int most2, int near2, std::uint8_t* labels) {
    int before = kNone;  // the label of the last cell
    for (int x = 0; x < width; x += kBlock) {
      const int n = width - x < kBlock ? width - x : kBlock;
      if (before != kNone && all_near(row, tiers, x, n, targets, before, most2)) {
        for (int i = 0; i < n; ++i) labels[x + i] = static_cast<std::uint8_t>(before);
        continue;
      }
      int best[kBlock];
      int label[kBlock];
      int open[kBlock];  // what a target of large things must beat: nothing does for cells that are not flat
      for (int i = 0; i < n; ++i) {
        const bool flat = tiers[x + i] != kNotFlatTier;
        best[i] = flat ? most2 : near2;
        open[i] = flat ? -1 : 0;
        label[i] = kNone;
      }
      for (std::size_t k = 0; k < targets.count; ++k) {
        const int L = targets.L[k];
        const int a = targets.a[k];
        const int b = targets.b[k];
        const int name = static_cast<int>(k);
        const int everywhere = k < small ? 0 : -1;
        for (int i = 0; i < n; ++i) {
          const int d = gap2_of(row.L[x + i], row.a[x + i], row.b[x + i], L, a, b);
          const int wins = -static_cast<int>(d < best[i]) & (open[i] | everywhere);
          best[i] = wins != 0 ? d : best[i];
          label[i] = wins != 0 ? name : label[i];
        }
      }
      for (int i = 0; i < n; ++i) labels[x + i] = static_cast<std::uint8_t>(label[i]);
      before = label[n - 1];
    }
  }

  static constexpr RowWork work(std::string_view name) {
    return {name, lab_from_light, grow, judge_flat, nearest};
  }
};

}  // namespace
}  // namespace kithue::extract
