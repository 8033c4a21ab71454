// SPDX-License-Identifier: MIT
#include "colour/adapt.h"

namespace kithue {
namespace {

constexpr Matrix3 kBradford{
    {{{0.8951, 0.2664, -0.1614}, {-0.7502, 1.7135, 0.0367}, {0.0389, -0.0685, 1.0296}}}};

}  // namespace

Matrix3 bradford(const Xyz& from, const Xyz& to) noexcept {
  const auto cone_from = times(kBradford, {from.X, from.Y, from.Z});
  const auto cone_to = times(kBradford, {to.X, to.Y, to.Z});
  const Matrix3 gain{{{{cone_to[0] / cone_from[0], 0, 0},
                       {0, cone_to[1] / cone_from[1], 0},
                       {0, 0, cone_to[2] / cone_from[2]}}}};
  return product(inverse(kBradford), product(gain, kBradford));
}

Xyz adapted(const Xyz& xyz, const Xyz& from, const Xyz& to) noexcept {
  const auto out = times(bradford(from, to), {xyz.X, xyz.Y, xyz.Z});
  return {out[0], out[1], out[2]};
}

Lab lab_d50_from(const Lab& lab, const Xyz& white) noexcept {
  // Equal whites: adapting would only add rounding to the user's digits.
  if (white == kD50) return lab;
  return lab_from_xyz(adapted(xyz_from_lab(lab, white), white, kD50));
}

}  // namespace kithue
