// SPDX-License-Identifier: MIT
#pragma once

// The loops of BandWork, written so that compilers make vectors of them; see row_kernel.h, whose rules hold
// here as well: nothing of the standard library, a struct of its own for every file.

#include "extract/band_work.h"

namespace kithue::extract {
namespace {

struct BandKernel {
  static constexpr int kBlock = 32;
  static constexpr float kY[3] = {0.299F, 0.587F, 0.114F};  // ITU-R BT.601

  /// The density of the smear, by which `past` is the part of it below z.
  [[gnu::always_inline]] static inline float density_of(float z, float excess, float& past) {
    z = z > 6.5F ? 6.5F : z;
    z = z < -6.5F ? -6.5F : z;
    const float away = z < 0.0F ? -z : z;
    // exp(-z^2 / 2) as a power of two: whole part by the exponent, the rest by its series.
    const float power = z * z * -0.72134752F;
    constexpr float kShift = 12582912.0F;  // 1.5 * 2^23: from here a float counts in ones
    const float shifted = power + kShift;
    const float rest = (power - (shifted - kShift)) * 0.69314718F;
    const float series =
        1.0F +
        rest * (1.0F + rest * (0.5F + rest * (1.0F / 6.0F + rest * (1.0F / 24.0F + rest * (1.0F / 120.0F)))));
    const int whole = __builtin_bit_cast(int, shifted) - __builtin_bit_cast(int, kShift);
    const float density = 0.39894228F * series * __builtin_bit_cast(float, (whole + 127) * (1 << 23));
    const float t = 1.0F / (1.0F + 0.2316419F * away);
    const float tail =
        density * t *
        (0.31938153F + t * (-0.356563782F + t * (1.781477937F + t * (-1.821255978F + t * 1.330274429F))));
    const float part = excess * (1.0F / 24.0F);
    const float z2 = z * z;
    past = (z < 0.0F ? tail : 1.0F - tail) - part * (z2 - 3.0F) * z * density;
    return density * (1.0F + part * ((z2 - 6.0F) * z2 + 3.0F));
  }

  /// The curve of sRGB; `growth` is its slope.
  [[gnu::always_inline]] static inline float coded_of_light(float light, float& growth) {
    constexpr float kEnd = 0.0031308F;
    float t = light > kEnd ? light : kEnd;
    t = t < 2.0F ? t : 2.0F;
    // t^(1/3) from the exponent and two steps after Halley, t^(5/12) = t^(1/3) * (t^(1/3))^(1/4).
    const auto third = static_cast<int>(static_cast<float>(__builtin_bit_cast(int, t)) * (1.0F / 3.0F));
    float root = __builtin_bit_cast(float, third + 0x2a514067);
    float cube = root * root * root;
    root = root * (cube + (t + t)) / (cube + cube + t);
    cube = root * root * root;
    root = root * (cube + (t + t)) / (cube + cube + t);
    const float power = root * __builtin_sqrtf(__builtin_sqrtf(root));
    const bool straight = light <= kEnd;
    growth = straight ? 12.92F : 1.055F * 5.0F / 12.0F * power / t;
    return straight ? 12.92F * light : 1.055F * power - 0.055F;
  }

  [[gnu::always_inline]] static inline void store(float r, float g, float b, float* y, float* cb, float* cr) {
    *y = kY[0] * r + kY[1] * g + kY[2] * b;
    *cb = (b - *y) * (1.0F / 1.772F);
    *cr = (r - *y) * (1.0F / 1.402F);
  }

  struct Block {
    float past[BandModel::kMostEdges][kBlock];
    float density[BandModel::kMostEdges][kBlock];
    float coded[3][kBlock];
    float growth[3][kBlock];
  };

  /// Brings the part of the smear below a distance, and its density, as near as `stepped` says to those of a
  /// kernel on whole pixels.
  [[gnu::always_inline]] static inline void step_in(const BandModel& model, float away, float& density,
                                                    float& past) {
    constexpr float kShift = 12582912.0F;  // 1.5 * 2^23: rounds to a whole number
    const float low = ((away - 1.0F + kShift) - kShift) + 0.5F;
    float first;
    float second;
    density_of(low * model.by_nodes, model.excess, first);
    density_of((low + 1.0F) * model.by_nodes, model.excess, second);
    const float rise = second - first;
    past += model.stepped * (first + (away - low) * rise - past);
    density += model.stepped * (rise / model.by_sharp - density);
  }

  [[gnu::always_inline]] static inline void fill(const BandModel& model, const float* at, int n,
                                                 Block& block) {
    float light[3][kBlock];
    for (int c = 0; c < 3; ++c) {
      for (int i = 0; i < n; ++i) light[c][i] = model.light[0][c];
    }
    for (int e = 0; e < model.edges; ++e) {
      const float edge = model.edge[e];
      for (int i = 0; i < n; ++i) {
        block.density[e][i] = density_of((at[i] - edge) * model.by_sharp, model.excess, block.past[e][i]);
      }
      if (model.stepped > 0.0F) {
        for (int i = 0; i < n; ++i) step_in(model, at[i] - edge, block.density[e][i], block.past[e][i]);
      }
      for (int c = 0; c < 3; ++c) {
        const float step = model.light[e + 1][c] - model.light[e][c];
        for (int i = 0; i < n; ++i) light[c][i] += block.past[e][i] * step;
      }
    }
    for (int c = 0; c < 3; ++c) {
      for (int i = 0; i < n; ++i) block.coded[c][i] = coded_of_light(light[c][i], block.growth[c][i]);
    }
  }

  /// The slopes by one amount of a light between two edges.
  [[gnu::always_inline]] static inline void by_light(const Block& block, int e, int c, int n, float* y,
                                                     float* cb, float* cr) {
    const float wide_cb = ((c == 2 ? 1.0F : 0.0F) - kY[c]) * (1.0F / 1.772F);
    const float wide_cr = ((c == 0 ? 1.0F : 0.0F) - kY[c]) * (1.0F / 1.402F);
    for (int i = 0; i < n; ++i) {
      const float q = block.growth[c][i] * (block.past[e][i] - block.past[e + 1][i]);
      y[i] = kY[c] * q;
      cb[i] = wide_cb * q;
      cr[i] = wide_cr * q;
    }
  }

  [[gnu::always_inline]] static inline void by_edge(const BandModel& model, const Block& block, int e, int n,
                                                    float* y, float* cb, float* cr) {
    const float r = -model.by_sharp * (model.light[e + 1][0] - model.light[e][0]);
    const float g = -model.by_sharp * (model.light[e + 1][1] - model.light[e][1]);
    const float b = -model.by_sharp * (model.light[e + 1][2] - model.light[e][2]);
    for (int i = 0; i < n; ++i) {
      const float d = block.density[e][i];
      store(d * block.growth[0][i] * r, d * block.growth[1][i] * g, d * block.growth[2][i] * b, y + i, cb + i,
            cr + i);
    }
  }

  static void rows(const BandModel& model, const float* at, int count, bool with_slopes, float* rows) {
    for (int from = 0; from < count; from += kBlock) {
      const int n = count - from < kBlock ? count - from : kBlock;
      Block block;
      fill(model, at + from, n, block);
      float* row = rows + from;
      for (int i = 0; i < n; ++i) {
        store(block.coded[0][i], block.coded[1][i], block.coded[2][i], row + i, row + count + i,
              row + 2 * count + i);
      }
      if (!with_slopes) continue;
      for (int e = 0; e + 1 < model.edges; ++e) {
        for (int c = 0; c < 3; ++c) {
          row += 3 * count;
          by_light(block, e, c, n, row, row + count, row + 2 * count);
        }
      }
      for (int e = 0; e < model.edges; ++e) {
        row += 3 * count;
        by_edge(model, block, e, n, row, row + count, row + 2 * count);
      }
    }
  }

  /// Eight floats side by side, on any machine.
  using Lanes = float __attribute__((vector_size(32)));
  [[gnu::always_inline]] static inline void load(const float* from, Lanes& to) {
    __builtin_memcpy(&to, from, sizeof to);
  }

  [[gnu::always_inline]] static inline float sum_of(const Lanes& sum) {
    return ((sum[0] + sum[1]) + (sum[2] + sum[3])) + ((sum[4] + sum[5]) + (sum[6] + sum[7]));
  }

  static void spread(const float* in, const int* first, const float* taps, int count, float* out) {
    for (int i = 0; i < count; ++i) {
      const float* const from = in + first[i];
      Lanes low;
      Lanes high;
      Lanes low_tap;
      Lanes high_tap;
      load(from, low);
      load(from + 8, high);
      load(taps + 16 * i, low_tap);
      load(taps + 16 * i + 8, high_tap);
      out[i] = sum_of(low * low_tap + high * high_tap);
    }
  }

  static void products(const float* weight, const float* rows, int row_count, int count, float* sums) {
    for (int p = 0; p < row_count; ++p) {
      const float* const first = rows + p * count;
      for (int q = 0; q <= p; ++q) {
        const float* const second = rows + q * count;
        Lanes sum = {};
        for (int from = 0; from < count; from += 8) {
          Lanes w;
          Lanes x;
          Lanes y;
          load(weight + from, w);
          load(first + from, x);
          load(second + from, y);
          sum += w * x * y;
        }
        *sums++ = sum_of(sum);
      }
    }
  }

  static constexpr BandWork work(std::string_view name) { return {name, rows, spread, products}; }
};

}  // namespace
}  // namespace kithue::extract
