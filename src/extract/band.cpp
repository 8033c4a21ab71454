// SPDX-License-Identifier: MIT
#include "extract/band.h"

#include <algorithm>
#include <cmath>

namespace kithue::extract {
namespace {

constexpr std::size_t kVector = 8;

/// By how much more the light of red, green or blue moves R - Y than B - Y, as JFIF scales them.
constexpr std::array<float, 3> kCrByCb = [] {
  constexpr std::array<double, 3> kY{0.299, 0.587, 0.114};  // ITU-R BT.601
  std::array<float, 3> out{};
  for (std::size_t c = 0; c < 3; ++c)
    out[c] =
        static_cast<float>(((c == 0 ? 1.0 : 0.0) - kY[c]) / 1.402 / (((c == 2 ? 1.0 : 0.0) - kY[c]) / 1.772));
  return out;
}();

std::size_t whole_vectors(std::size_t count) noexcept {
  return (count + kVector - 1) / kVector * kVector;
}

constexpr double kTwoPi2 = 2.0 * 9.869604401089358;

/// The standard deviation of a normal distribution that has this variance once it is gathered into whole
/// pixels: that adds 1/12, less the first term of Poisson's sum for the pixels' borders.
double before_gathering(double variance) noexcept {
  constexpr double kLeast = 0.01;
  constexpr int kTurns = 10;
  double own = variance;
  for (int turn = 0; turn < kTurns; ++turn) {
    const double borders = 4.0 * std::exp(-kTwoPi2 * own) * (0.5 / kTwoPi2 + own);
    own = std::max(kLeast, 0.5 * (own + variance - kPixelVariance + borders));
  }
  return std::sqrt(own);
}

/// How much of the steps of a kernel of such a variance is left in a cut: those of its rows, or columns, lie
/// beside each other where it is tilted, and places are averaged.
double steps_left(const Cut& cut, double kernel_variance) noexcept {
  const double aside = std::min(std::abs(cut.across[0]), std::abs(cut.across[1]));
  return std::exp(-kTwoPi2 * (kernel_variance * aside * aside + cut.gathered));
}

void put(const Light& light, float (&to)[3]) noexcept {
  for (std::size_t c = 0; c < 3; ++c) to[c] = static_cast<float>(light[c]);
}

}  // namespace

Band::Band(const Cut& cut, const Smear& smear)
    : places_(cut.at.size()),
      room_(whole_vectors(places_)),
      points_(room_),
      left_(cut.left),
      right_(cut.right),
      by_sharp_(static_cast<float>(1.0 / std::sqrt(smear.sharp * smear.sharp + cut.gathered))),
      excess_(static_cast<float>(smear.excess)),
      at_(room_, static_cast<float>(cut.at.back())),
      target_(3 * room_, 0.0F),
      weight_(3 * room_, 0.0F) {
  if (smear.on_grid) {
    constexpr double kLeastStepped = 0.05;
    const double kernel_variance = std::max(0.0, smear.sharp * smear.sharp - kPixelVariance);
    const double stepped = steps_left(cut, kernel_variance);
    if (stepped > kLeastStepped) {
      stepped_ = static_cast<float>(stepped);
      by_nodes_ = static_cast<float>(1.0 / before_gathering(kernel_variance));
    }
  }
  for (std::size_t k = 0; k < places_; ++k) {
    at_[k] = static_cast<float>(cut.at[k]);
    if (k >= cut.value.size()) continue;  // only places are given: nothing to compare with
    for (std::size_t c = 0; c < 3; ++c) {
      target_[c * room_ + k] = static_cast<float>(cut.value[k][c]);
      weight_[c * room_ + k] = static_cast<float>(cut.weight[k] * (c == 0 ? 1.0 : smear.trust_chroma));
    }
    weight_sum_ += cut.weight[k];
  }
  if (cut.spread.empty() || smear.trust_chroma <= 0.0) return;  // brightness only
  const auto by_first = [](const Spread& a, const Spread& b) { return a.first < b.first; };
  const auto [low, high] = std::minmax_element(cut.spread.begin(), cut.spread.end(), by_first);
  const int last = high->first + static_cast<int>(Spread::kTaps);
  for (int i = low->first; i < last; ++i) at_.push_back(static_cast<float>(i * Spread::kStep));
  at_.resize(whole_vectors(at_.size()), at_.back());
  points_ = at_.size();
  for (const Spread& one : cut.spread) {
    first_.push_back(one.first - low->first);
    taps_.insert(taps_.end(), one.taps.begin(), one.taps.end());
  }
}

/// Puts the model, and each of its slopes, into signals_.
void Band::evaluate(const BandModel& model, bool with_slopes) {
  const BandWork& work = band_work();
  const std::size_t rows = 3 * (with_slopes ? 1 + static_cast<std::size_t>(model.free()) : 1);
  rows_.resize(std::max(rows_.size(), rows * points_));
  signals_.resize(std::max(signals_.size(), rows * room_));
  work.rows(model, at_.data(), static_cast<int>(points_), with_slopes, rows_.data());
  for (std::size_t row = 0; row < rows; ++row) {
    const float* const from = rows_.data() + row * points_;
    float* const to = signals_.data() + row * room_;
    if (row % 3 == 0 || first_.empty()) {
      std::copy(from, from + room_, to);
      continue;
    }
    const std::size_t slope = row / 3;
    if (row % 3 == 2 && slope > 0 && slope <= 3 * static_cast<std::size_t>(model.edges - 1)) {
      // More of one light moves both differences in step.
      const float part = kCrByCb[(slope - 1) % 3];
      for (std::size_t k = 0; k < places_; ++k) to[k] = part * to[k - room_];
      continue;
    }
    work.spread(from + room_, first_.data(), taps_.data(), static_cast<int>(places_), to);
  }
}

Coded Band::signal(std::size_t row, std::size_t place) const {
  Coded out;
  for (std::size_t c = 0; c < 3; ++c) out[c] = double{signals_[(3 * row + c) * room_ + place]};
  return out;
}

/// Without its lights and the places of its edges.
BandModel Band::model_of(int edges) const {
  BandModel model;
  model.edges = edges;
  model.by_sharp = by_sharp_;
  model.excess = excess_;
  model.stepped = stepped_;
  model.by_nodes = by_nodes_;
  return model;
}

void Band::values(std::span<const Light> lights, std::span<const double> edges, std::vector<Coded>& out) {
  BandModel model = model_of(static_cast<int>(edges.size()));
  for (std::size_t i = 0; i < lights.size(); ++i) put(lights[i], model.light[i]);
  for (std::size_t i = 0; i < edges.size(); ++i) model.edge[i] = static_cast<float>(edges[i]);
  evaluate(model, false);
  out.resize(places_);
  for (std::size_t k = 0; k < places_; ++k) out[k] = signal(0, k);
}

BandModel Band::line_model(const Light& line, double middle, double width) const {
  BandModel model = model_of(2);
  put(left_, model.light[0]);
  put(line, model.light[1]);
  put(right_, model.light[2]);
  model.edge[0] = static_cast<float>(middle - width / 2);
  model.edge[1] = static_cast<float>(middle + width / 2);
  return model;
}

void Band::slopes(const Light& line, double middle, double width, std::vector<Coded>& out,
                  std::array<std::vector<Coded>, 5>& slope) {
  evaluate(line_model(line, middle, width), true);
  out.resize(places_);
  for (auto& one : slope) one.resize(places_);
  for (std::size_t k = 0; k < places_; ++k) {
    out[k] = signal(0, k);
    for (std::size_t p = 0; p < 3; ++p) slope[p][k] = signal(p + 1, k);
    const Coded first = signal(4, k);
    const Coded second = signal(5, k);
    for (std::size_t c = 0; c < 3; ++c) {
      slope[3][k][c] = first[c] + second[c];
      slope[4][k][c] = 0.5 * (second[c] - first[c]);
    }
  }
}

template <std::size_t N>
NormalEquations<N> Band::equations(const BandModel& model) {
  evaluate(model, true);
  for (std::size_t i = 0; i < 3 * room_; ++i) signals_[i] = target_[i] - signals_[i];
  std::array<float, (N + 1) * (N + 2) / 2> sums;  // NOLINT: filled below
  band_work().products(weight_.data(), signals_.data(), static_cast<int>(N + 1), static_cast<int>(3 * room_),
                       sums.data());
  NormalEquations<N> out;
  out.cost = double{sums[0]};
  out.weight = weight_sum_;
  const float* next = sums.data() + 1;
  for (std::size_t p = 0; p < N; ++p) {
    out.v[p] = double{*next++};
    for (std::size_t q = 0; q <= p; ++q) {
      out.m[p][q] = double{*next++};
      out.m[q][p] = out.m[p][q];
    }
  }
  return out;
}

NormalEquations<5> Band::line_equations(const Light& line, double middle, double width) {
  NormalEquations<5> out = equations<5>(line_model(line, middle, width));
  // From the two edges to their middle and the way between them.
  const auto turn = [](double& first, double& second) {
    const double sum = first + second;
    second = 0.5 * (second - first);
    first = sum;
  };
  for (auto& row : out.m) turn(row[3], row[4]);
  for (std::size_t q = 0; q < 5; ++q) turn(out.m[3][q], out.m[4][q]);
  turn(out.v[3], out.v[4]);
  return out;
}

template <std::size_t N>
NormalEquations<4 * N + 1> Band::bands_equations(const std::array<Light, N>& lights,
                                                 const std::array<double, N + 1>& edges) {
  BandModel model = model_of(static_cast<int>(N + 1));
  put(left_, model.light[0]);
  for (std::size_t i = 0; i < N; ++i) put(lights[i], model.light[i + 1]);
  put(right_, model.light[N + 1]);
  for (std::size_t i = 0; i <= N; ++i) model.edge[i] = static_cast<float>(edges[i]);
  return equations<4 * N + 1>(model);
}

template NormalEquations<9> Band::bands_equations<2>(const std::array<Light, 2>& lights,
                                                     const std::array<double, 3>& edges);
template NormalEquations<13> Band::bands_equations<3>(const std::array<Light, 3>& lights,
                                                      const std::array<double, 4>& edges);

}  // namespace kithue::extract
