// SPDX-License-Identifier: MIT
#include "colour/adaptation_loss.h"

#include <array>

namespace kithue {
namespace {

struct Row {
  std::string_view white;
  AdaptationLoss loss;
};

constexpr std::array<Row, 17> kRows{{
    {"D55/2", {0.2, 0.5}},
    {"D65/2", {0.5, 1.1}},
    {"D75/2", {0.8, 1.6}},
    {"A/2", {1.6, 3.0}},
    {"C/2", {0.6, 1.1}},
    {"F2/2", {3.6, 6.4}},
    {"F7/2", {1.3, 2.3}},
    {"F11/2", {1.8, 4.7}},
    {"D50/10", {1.8, 3.5}},
    {"D55/10", {2.0, 3.8}},
    {"D65/10", {2.3, 4.3}},
    {"D75/10", {2.6, 4.8}},
    {"A/10", {1.1, 2.0}},
    {"C/10", {2.3, 4.4}},
    {"F2/10", {3.4, 6.2}},
    {"F7/10", {2.2, 4.0}},
    {"F11/10", {1.4, 3.2}},
}};

}  // namespace

std::optional<AdaptationLoss> adaptation_loss(std::string_view white) noexcept {
  for (const Row& row : kRows) {
    if (row.white == white) return row.loss;
  }
  return std::nullopt;
}

}  // namespace kithue
