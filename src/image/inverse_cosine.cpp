// SPDX-License-Identifier: MIT
#include "image/inverse_cosine.h"

#include <algorithm>
#include <array>
#include <cstddef>
#include <cstdint>

namespace kithue {
namespace {

constexpr int kBits = 13;     // of a constant
constexpr int kKeptBits = 2;  // between the passes

using Number = std::uint32_t;  // signed in meaning; coefficients that no encoder writes may wrap around

constexpr Number fixed(double factor) {
  return static_cast<Number>(static_cast<std::int32_t>(factor * (1 << kBits) + (factor < 0.0 ? -0.5 : 0.5)));
}

constexpr std::size_t kSide = 8;
using Lane = std::array<Number, kSide>;  // the same number of eight rows or columns
using Block = std::array<Lane, kSide>;

/// Divided by a power of two and rounded.
template <int Shift>
Number shortened(Number value) {
  return static_cast<Number>(static_cast<std::int32_t>(value + (1U << (Shift - 1))) >> Shift);
}

/// Eight transforms at a time: in[i][k] is number i of the k-th.
template <int Shift>
void transform(const Block& in, Block& out) {
  for (std::size_t k = 0; k < kSide; ++k) {
    const Number turned = (in[2][k] + in[6][k]) * fixed(0.541196100);
    const Number even_2 = turned - in[6][k] * fixed(1.847759065);
    const Number even_3 = turned + in[2][k] * fixed(0.765366865);
    const Number even_0 = (in[0][k] + in[4][k]) * (1U << kBits);
    const Number even_1 = (in[0][k] - in[4][k]) * (1U << kBits);
    const std::array<Number, 4> even{even_0 + even_3, even_1 + even_2, even_1 - even_2, even_0 - even_3};

    const Number both = (in[7][k] + in[3][k] + in[5][k] + in[1][k]) * fixed(1.175875602);
    const Number outer = (in[7][k] + in[1][k]) * fixed(-0.899976223);
    const Number inner = (in[5][k] + in[3][k]) * fixed(-2.562915447);
    const Number left = (in[7][k] + in[3][k]) * fixed(-1.961570560) + both;
    const Number right = (in[5][k] + in[1][k]) * fixed(-0.390180644) + both;
    const std::array<Number, 4> odd{
        in[1][k] * fixed(1.501321110) + outer + right, in[3][k] * fixed(3.072711026) + inner + left,
        in[5][k] * fixed(2.053119869) + inner + right, in[7][k] * fixed(0.298631336) + outer + left};
    for (std::size_t i = 0; i < 4; ++i) {
      out[i][k] = shortened<Shift>(even[i] + odd[i]);
      out[kSide - 1 - i][k] = shortened<Shift>(even[i] - odd[i]);
    }
  }
}

}  // namespace

void inverse_cosine(unsigned char* out, int stride, const short coefficients[64]) noexcept {
  constexpr int kMiddle = 128;
  Block columns;  // NOLINT: filled below
  for (std::size_t i = 0; i < kSide; ++i) {
    for (std::size_t k = 0; k < kSide; ++k) columns[i][k] = static_cast<Number>(coefficients[i * kSide + k]);
  }
  Block rows;  // NOLINT: filled below
  transform<kBits - kKeptBits>(columns, rows);
  Block across;  // NOLINT: filled below
  for (std::size_t i = 0; i < kSide; ++i) {
    for (std::size_t k = 0; k < kSide; ++k) across[i][k] = rows[k][i];
  }
  Block samples;  // NOLINT: filled below
  transform<kBits + kKeptBits + 3>(across, samples);
  for (std::size_t y = 0; y < kSide; ++y, out += stride) {
    for (std::size_t x = 0; x < kSide; ++x)
      out[x] =
          static_cast<unsigned char>(std::clamp(static_cast<std::int32_t>(samples[x][y]) + kMiddle, 0, 255));
  }
}

}  // namespace kithue
