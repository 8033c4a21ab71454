// SPDX-License-Identifier: MIT
#pragma once

// CIEDE2000 for as many lanes as `Ops` has; included once by each difference_*.cpp, which are compiled for
// different machines. So nothing here may call the standard library: an inline function of it, compiled
// for AVX-512, could be the copy that the linker keeps for everyone.

#include <cstddef>

#include "colour/difference_batch.h"

namespace kithue::kernel {

inline constexpr double k25To7 = 6103515625.0;
// A hue gap this little past 180 degrees still counts as opposite, a mean hue this little short of 360 as
// 0: the sines of 1e-9 and of 5e-10 degree, as in difference.cpp.
inline constexpr double kOppositeSine = 1.7453292519943295e-11;
inline constexpr double kTurnSine = 8.726646259971648e-12;

/// 3 x 3 terms of T with the angles of the paper (30, 6 and 63 degrees) multiplied out, and the direction
/// of the rotation term, 275 degrees.
inline constexpr double kT1Cos = -0.17 * 0.86602540378443864676;
inline constexpr double kT1Sin = -0.17 * 0.5;
inline constexpr double kT2Cos = 0.24;
inline constexpr double kT3Cos = 0.32 * 0.99452189536827333692;
inline constexpr double kT3Sin = -0.32 * 0.10452846326765347140;
inline constexpr double kT4Cos = -0.20 * 0.45399049973954679156;
inline constexpr double kT4Sin = -0.20 * 0.89100652418836786236;
inline constexpr double kCos275 = 0.087155742747658173558;
inline constexpr double kSin275 = -0.99619469809174553230;

/// exp(-(d / 25)^2 / 32) for d in degrees, from q = 1 - cos d: weighted minimax on 0 to 2. Its 32nd power,
/// the exponential of the paper, is within 5e-13.
inline constexpr double kBell[12] = {
    1.00000000000001319,      -0.328280635008571409,    -0.000829350867731618126, -0.00252527578312255958,
    -0.000867198928019719995, -0.000319054689304504781, -0.000107287573487355042, -0.0000932264251650973962,
    0.0000701751013896301561, -0.000118649204791109367, 0.0000731372358557752222, -0.0000258244000138822049};
/// sin(z * 60 degrees) / z from z^2, for z of 0 to 1: minimax, within 8e-14.
inline constexpr double kSine[6] = {1.0471975511956892,     -0.191396769605994789,
                                    0.0104945020175385265,  -0.000274011429333803609,
                                    4.17227237958115517e-6, -4.06659101560774664e-8};

/// c[i] + c[i + 2] x + c[i + 4] x^2 ... by Horner.
template <std::size_t i, typename V, std::size_t n>
[[gnu::always_inline]] inline V every_second(const double (&c)[n], V x) {
  if constexpr (i + 2 < n) {
    return every_second<i + 2>(c, x) * x + c[i];
  } else {
    return c[i] + V{};
  }
}

/// The even and the odd powers apart: two short chains run side by side where one long one would wait.
template <typename V, std::size_t n>
[[gnu::always_inline]] inline V polynomial(const double (&c)[n], V x) {
  const V square = x * x;
  return every_second<0>(c, square) + every_second<1>(c, square) * x;
}

/// sqrt(C^7 / (C^7 + 25^7)).
template <typename Ops>
[[gnu::always_inline]] inline typename Ops::V chroma_share(typename Ops::V C) {
  const auto square = C * C;
  const auto seventh = square * square * square * C;
  return Ops::sqrt(seventh / (seventh + k25To7));
}

/// T of the paper, from the cosine and sine of the mean hue.
template <typename V>
[[gnu::always_inline]] inline V hue_term(V c, V s) {
  const V c2 = c * c - s * s;
  const V s2 = (c + c) * s;
  const V c3 = c * c2 - s * s2;
  const V s3 = s * c2 + c * s2;
  const V c4 = c2 * c2 - s2 * s2;
  const V s4 = (c2 + c2) * s2;
  return 1.0 + (kT1Cos * c + kT1Sin * s) + kT2Cos * c2 + (kT3Cos * c3 + kT3Sin * s3) +
         (kT4Cos * c4 + kT4Sin * s4);
}

/// sin(2 dTheta) of the paper, from the cosine and sine of the mean hue.
template <typename V>
[[gnu::always_inline]] inline V rotation_sine(V c, V s) {
  V bell = polynomial(kBell, 1.0 - (c * kCos275 + s * kSin275));
  bell = bell * bell;
  bell = bell * bell;
  bell = bell * bell;
  bell = bell * bell;
  bell = bell * bell;  // its 32nd power
  // The paper counts hues from 0 to 360, so from just above 0 it is 275 degrees to 275, not 85.
  bell = ((s >= -kTurnSine) & (c > 0.0)) ? V{} : bell;
  return bell * polynomial(kSine, bell * bell);
}

/// The hue difference dH' and the direction of the mean hue.
template <typename V>
struct HueParts {
  V dH, cosine, sine;
};

/// With u and v the two colours as vectors (a', b): u x v = |u||v| sin dh, u . v = |u||v| cos dh, and
/// dH' = 2 sqrt(|u||v|) sin(dh / 2). The mean hue is the direction of the sum of the two unit vectors, or,
/// for hues more than 90 degrees apart, square to their difference: each form where it does not cancel.
template <typename Ops>
[[gnu::always_inline]] inline HueParts<typename Ops::V> hue_parts(typename Ops::V a1, typename Ops::V b1,
                                                                  typename Ops::V C1, typename Ops::V a2,
                                                                  typename Ops::V b2, typename Ops::V C2) {
  using V = typename Ops::V;
  // A neutral has no direction; a chroma of almost nothing keeps the divisions finite, and dH' is 0 then.
  constexpr double kLeast = 1e-60;
  const V n1 = C1 < kLeast ? kLeast + V{} : C1;
  const V n2 = C2 < kLeast ? kLeast + V{} : C2;
  const V size = n1 * n2;
  const V dot = a1 * a2 + b1 * b2;
  const V cross = a1 * b2 - a2 * b1;
  const auto obtuse = dot < 0.0;

  // Which way from the first hue to the second: by the cross product, except that exactly opposite hues go
  // from the lower to the higher. The lower one lies in the upper half, where b is above 0; of two in one
  // half, both on the a axis but for a hair, the one at the half's beginning.
  const auto upper1 = (b1 > 0.0) | ((b1 == 0.0) & (a1 > 0.0));
  const auto upper2 = (b2 > 0.0) | ((b2 == 0.0) & (a2 > 0.0));
  const auto higher = (upper1 & (~upper2 | (a1 > a2))) | (~upper1 & ~upper2 & (a1 < a2));
  const V cross_size = cross < 0.0 ? -cross : cross;
  const auto opposite = cross_size <= size * kOppositeSine;
  const auto onward = (opposite & higher) | (~opposite & (cross > 0.0));
  const V turn = onward ? 1.0 + V{} : -1.0 + V{};

  const V half = Ops::sqrt((size + (obtuse ? -dot : dot)) * 0.5);
  const V root = Ops::sqrt(size);
  const V scale = 1.0 / (half * root);
  const V p = a1 * n2, q = a2 * n1, r = b1 * n2, s = b2 * n1;
  return {obtuse ? turn * (half + half) : cross * (scale * root),
          (obtuse ? turn * (s - r) : p + q) * (scale * 0.5),
          (obtuse ? turn * (p - q) : r + s) * (scale * 0.5)};
}

/// What one stage hands to the next, for a block of pairs.
inline constexpr std::size_t kBlockPairs = 64;
struct Block {
  double a1[kBlockPairs], a2[kBlockPairs], C1[kBlockPairs], C2[kBlockPairs];
  double dH[kBlockPairs], cosine[kBlockPairs], sine[kBlockPairs];
};

template <typename V>
[[gnu::always_inline]] inline V load(const double* from) {
  V out;
  __builtin_memcpy(&out, from, sizeof(V));
  return out;
}

template <typename V>
[[gnu::always_inline]] inline void store(double* to, V value) {
  __builtin_memcpy(to, &value, sizeof(V));
}

/// Stage 1: a' and C' of both colours.
template <typename Ops>
[[gnu::always_inline]] inline void stretch(const LabColumns::Row& from, const double* a, const double* b,
                                           const double* C, std::size_t count, Block& block) {
  using V = typename Ops::V;
  const V square1 = from.b * from.b + V{};
  for (std::size_t i = 0; i < count; i += sizeof(V) / sizeof(double)) {
    const V b2 = load<V>(b + i);
    const V by = 1.5 - 0.5 * chroma_share<Ops>((from.C + load<V>(C + i)) * 0.5);  // 1 + G
    const V a1 = by * from.a;
    const V a2 = by * load<V>(a + i);
    store(block.a1 + i, a1);
    store(block.a2 + i, a2);
    store(block.C1 + i, Ops::sqrt(a1 * a1 + square1));
    store(block.C2 + i, Ops::sqrt(a2 * a2 + b2 * b2));
  }
}

/// Stage 2: hue difference and mean hue.
template <typename Ops>
[[gnu::always_inline]] inline void turn(const LabColumns::Row& from, const double* b, std::size_t count,
                                        Block& block) {
  using V = typename Ops::V;
  for (std::size_t i = 0; i < count; i += sizeof(V) / sizeof(double)) {
    const HueParts<V> hue = hue_parts<Ops>(load<V>(block.a1 + i), from.b + V{}, load<V>(block.C1 + i),
                                           load<V>(block.a2 + i), load<V>(b + i), load<V>(block.C2 + i));
    store(block.dH + i, hue.dH);
    store(block.cosine + i, hue.cosine);
    store(block.sine + i, hue.sine);
  }
}

/// Stage 3: the weights, and the three parts put together.
template <typename Ops>
[[gnu::always_inline]] inline void weigh(const LabColumns::Row& from, const double* L, std::size_t count,
                                         const Block& block, double* out) {
  using V = typename Ops::V;
  for (std::size_t i = 0; i < count; i += sizeof(V) / sizeof(double)) {
    const V cosine = load<V>(block.cosine + i), sine = load<V>(block.sine + i);
    const V C1 = load<V>(block.C1 + i), C2 = load<V>(block.C2 + i), L2 = load<V>(L + i);
    const V C = (C1 + C2) * 0.5;
    const V RT = -2.0 * chroma_share<Ops>(C) * rotation_sine(cosine, sine);
    const V from_middle = (from.L + L2) * 0.5 - 50.0;
    const V square = from_middle * from_middle;
    const V root = Ops::sqrt(square + 20.0);
    const V SL = root + 0.015 * square;  // times the root
    const V SC = 1.0 + 0.045 * C;
    const V SH = 1.0 + 0.015 * C * hue_term(cosine, sine);

    // One division for three: each part is multiplied by the two weights it does not have.
    const V scale = 1.0 / (SL * (SC * SH));
    const V lightness = (L2 - from.L) * (root * (SC * SH)) * scale;
    const V chroma = (C2 - C1) * (SL * SH) * scale;
    const V hue = load<V>(block.dH + i) * (SL * SC) * scale;
    const V sum = lightness * lightness + chroma * chroma + hue * hue + RT * chroma * hue;
    store(out + i, Ops::sqrt(sum < 0.0 ? V{} : sum));
  }
}

/// The work of one variant; see BatchVariant::run. In stages over short blocks, because one pair is one long
/// chain of dependent steps: cut up, the processor has several pairs of a stage in hand at a time.
template <typename Ops>
[[gnu::always_inline]] inline void run(const LabColumns::Row& from, const double* L, const double* a,
                                       const double* b, const double* C, std::size_t count, double* out) {
  Block block;
  for (std::size_t i = 0; i < count; i += kBlockPairs) {
    const std::size_t pairs = count - i < kBlockPairs ? count - i : kBlockPairs;
    stretch<Ops>(from, a + i, b + i, C + i, pairs, block);
    turn<Ops>(from, b + i, pairs, block);
    weigh<Ops>(from, L + i, pairs, block, out + i);
  }
}

void run_two_lanes(const LabColumns::Row& from, const double* L, const double* a, const double* b,
                   const double* C, std::size_t count, double* out) noexcept;
#if defined(__x86_64__)
void run_avx2(const LabColumns::Row& from, const double* L, const double* a, const double* b, const double* C,
              std::size_t count, double* out) noexcept;
void run_avx512(const LabColumns::Row& from, const double* L, const double* a, const double* b,
                const double* C, std::size_t count, double* out) noexcept;
#endif

}  // namespace kithue::kernel
