// SPDX-License-Identifier: MIT
#include <doctest/doctest.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <cstdint>
#include <cstdlib>
#include <numbers>
#include <random>

#include "image/inverse_cosine.h"

using namespace kithue;

namespace {

using Coefficients = std::array<short, 64>;
using Samples = std::array<unsigned char, 64>;

Samples mine(const Coefficients& block) {
  Samples out{};
  inverse_cosine(out.data(), 8, block.data());
  return out;
}

/// What one coefficient adds to one sample, by the formula of ITU-T T.81, A.3.3.
double basis(int u, int v, int x, int y) {
  const double scale = (u == 0 ? std::numbers::sqrt2 / 2 : 1.0) * (v == 0 ? std::numbers::sqrt2 / 2 : 1.0);
  return 0.25 * scale * std::cos((2 * x + 1) * u * std::numbers::pi / 16) *
         std::cos((2 * y + 1) * v * std::numbers::pi / 16);
}

std::array<double, 4096> all_bases() {
  std::array<double, 4096> out{};
  for (int i = 0; i < 4096; ++i)
    out[static_cast<std::size_t>(i)] = basis(i / 64 % 8, i / 64 / 8, i % 8, i / 8 % 8);
  return out;
}

/// The forward transform of samples, rounded.
Coefficients forward(const std::array<int, 64>& samples, const std::array<double, 4096>& bases) {
  Coefficients out{};
  for (std::size_t k = 0; k < 64; ++k) {
    double sum = 0.0;
    for (std::size_t i = 0; i < 64; ++i) sum += bases[64 * k + i] * samples[i];
    out[k] = static_cast<short>(std::lround(sum));
  }
  return out;
}

double inverse(const Coefficients& block, std::size_t at, const std::array<double, 4096>& bases) {
  double sum = 0.0;
  for (std::size_t k = 0; k < 64; ++k) sum += bases[64 * k + at] * block[k];
  return std::clamp(std::round(sum) + 128.0, 0.0, 255.0);
}

}  // namespace

TEST_CASE("inverse_cosine: within the bounds of IEEE 1180-1990 of the formula in ITU-T T.81") {
  // As that standard has it: random samples of +-300, +-256 or +-5, their exact transform rounded. A peak
  // error of 1, a mean square error of 0.06 at each place and 0.02 over all, a mean error of 0.015 and 0.0015
  // (all from memory). Its 10,000 blocks are 2,000 here, which scatter more: means may be three times as far.
  const auto bases = all_bases();
  for (const int range : {300, 256, 5}) {
    CAPTURE(range);
    constexpr int kBlocks = 2000;
    std::mt19937 random(1);
    std::array<double, 64> sum{};
    std::array<double, 64> squares{};
    double most = 0.0;
    for (int i = 0; i < kBlocks; ++i) {
      std::array<int, 64> samples{};
      for (int& one : samples)
        one = static_cast<int>(random() % (2U * static_cast<unsigned>(range) + 1U)) - range;
      const Coefficients block = forward(samples, bases);
      const Samples out = mine(block);
      for (std::size_t at = 0; at < 64; ++at) {
        const double off = out[at] - inverse(block, at, bases);
        most = std::max(most, std::abs(off));
        sum[at] += off;
        squares[at] += off * off;
      }
    }
    CHECK(most <= 1.0);
    double all = 0.0;
    double all_squares = 0.0;
    for (std::size_t at = 0; at < 64; ++at) {
      CHECK(squares[at] / kBlocks < 0.06);
      CHECK(std::abs(sum[at] / kBlocks) < 3 * 0.015);
      all += sum[at];
      all_squares += squares[at];
    }
    CHECK(all_squares / (64.0 * kBlocks) < 0.02);
    CHECK(std::abs(all / (64.0 * kBlocks)) < 3 * 0.0015);
  }
}

TEST_CASE("inverse_cosine: a mean alone fills the block, and what is beyond black or white ends there") {
  Coefficients block{};
  block[0] = 8 * 40;
  for (const unsigned char one : mine(block)) CHECK(one == 168);
  block[0] = 8 * 400;
  for (const unsigned char one : mine(block)) CHECK(one == 255);
  block[0] = -8 * 400;
  for (const unsigned char one : mine(block)) CHECK(one == 0);
}

TEST_CASE("inverse_cosine: coefficients that no encoder writes are no fault") {
  // Sanitizers would tell of sums that overflow; nothing beside the block is written to.
  Coefficients block{};
  for (std::size_t i = 0; i < 64; ++i) block[i] = i % 3 == 0 ? 32767 : -32768;
  std::array<unsigned char, 80> wide{};
  inverse_cosine(wide.data(), 10, block.data());
  CHECK(wide[8] == 0);
  CHECK(wide[9] == 0);
}
