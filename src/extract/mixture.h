// SPDX-License-Identifier: MIT
#pragma once

#include <array>
#include <cstddef>
#include <tuple>
#include <vector>

#include "colour/lab.h"

namespace kithue::extract {

/// What two colours can mix to in linear light, as a chain of Lab points from one to the other.
using MixtureChain = std::array<Lab, 9>;
MixtureChain mixture_chain(const Lab& from, const Lab& to);

/// Plain distance in Lab units.
double lab_distance(const Lab& x, const Lab& y) noexcept;
/// Plain Lab distance of a colour from the nearest place on the chain.
double distance_to(const Lab& lab, const MixtureChain& chain) noexcept;

/// True when two of the colours mix to within `near` Lab units of this one.
bool is_mixture(const Lab& lab, const std::vector<Lab>& colours, double near);

/// The mixtures of every two of some colours, as pieces of straight lines that lie ready to be measured from.
class Mixtures {
 public:
  /// `colours` must outlive it.
  explicit Mixtures(const std::vector<Lab>& colours);
  /// How far a colour is from what two of them, or one and itself, could mix to: as distance_to and
  /// lab_distance, in single precision.
  [[nodiscard]] double miss(const Lab& lab, std::size_t i, std::size_t j) const;
  /// The same for whatever two come nearest.
  [[nodiscard]] double least_miss(const Lab& lab) const;
  /// True when least_miss is more than so much; sooner said than how much it is.
  [[nodiscard]] bool all_miss(const Lab& lab, double by) const;

 private:
  static constexpr std::size_t kPieces = std::tuple_size_v<MixtureChain> - 1;
  using Column = std::array<float, kPieces>;
  struct Pieces {
    Column L{}, a{}, b{}, dL{}, da{}, db{}, by_length2{};
  };
  static Pieces pieces_of(const MixtureChain& chain);

  const std::vector<Lab>& colours_;
  std::vector<Pieces> chains_;
};

}  // namespace kithue::extract
