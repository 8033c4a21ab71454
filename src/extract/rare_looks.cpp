// SPDX-License-Identifier: MIT
#include "extract/rare_looks.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <iterator>
#include <numbers>

namespace kithue::extract {
namespace {

constexpr std::size_t kHues = 12;
constexpr double kVivid = 30.0;  // C*

std::size_t hue_of(const Lab& lab) {
  const double turn = (std::atan2(lab.b, lab.a) / std::numbers::pi + 1.0) / 2.0;
  return std::min(kHues - 1, static_cast<std::size_t>(turn * kHues));
}

}  // namespace

bool is_unlike_all(const Lab& lab, const Mixtures& mixtures) {
  constexpr double kFar = 20.0;  // Lab units
  return std::hypot(lab.a, lab.b) > kVivid && mixtures.all_miss(lab, kFar);
}

void add_rare_looks(std::vector<Look>& looks, const std::vector<Core>& cores, const std::vector<Lab>& known,
                    const Cutter& cutter, int side, Executor& executor) {
  constexpr std::size_t kSome = 8;  // looks: as many show a colour by themselves
  constexpr std::size_t kWanted = 24;
  constexpr std::size_t kLeast = 16;  // cores of those that are judged
  constexpr std::size_t kJudged = 4000;
  const Mixtures mixtures(known);
  std::array<std::vector<Core>, kHues> rare;
  const std::size_t step = 1 + cores.size() / kJudged;
  for (std::size_t i = 0; i < cores.size(); i += step) {
    const Lab lab = lab_of(cores[i].lab);
    if (is_unlike_all(lab, mixtures)) rare[hue_of(lab)].push_back(cores[i]);
  }
  const std::size_t evenly = looks.size();
  for (std::size_t hue = 0; hue < kHues; ++hue) {
    if (rare[hue].size() < kLeast) continue;
    std::vector<Look*> own;
    for (std::size_t i = 0; i < evenly; ++i) {
      const Lab lab = lab_of(looks[i].core.lab);
      if (hue_of(lab) == hue && is_unlike_all(lab, mixtures)) own.push_back(&looks[i]);
    }
    if (own.size() >= kSome) continue;
    std::vector<Look> more = looks_of(rare[hue], kWanted, cutter, side, executor);
    if (more.empty()) continue;
    const double each = static_cast<double>(rare[hue].size() * step * evenly) /
                        static_cast<double>(cores.size() * more.size());
    for (Look& look : more) look.stands_for = each;
    for (Look* look : own) look->stands_for = 0.0;  // they may be among those
    looks.insert(looks.end(), std::make_move_iterator(more.begin()), std::make_move_iterator(more.end()));
  }
}

}  // namespace kithue::extract
