// SPDX-License-Identifier: MIT
#include "extract/surround.h"

#include <algorithm>

namespace kithue::extract {
namespace {

constexpr double kRadius = 3.0;         // CIE76: places this near count as one colour of the edge
constexpr double kSurroundReach = 4.5;  // and places this near to it as the surround
constexpr std::size_t kMostColours = 40;
constexpr double kLeastCovered = 0.92;

double apart2(const Lab& p, const Lab& q) noexcept {
  return (p.L - q.L) * (p.L - q.L) + (p.a - q.a) * (p.a - q.a) + (p.b - q.b) * (p.b - q.b);
}

/// True when `lab` could be `lit` in a shadow: less light of the same kind. L* + 16, a* and b* fall alike.
bool in_shadow(const Lab& lab, const Lab& lit) noexcept {
  constexpr double kDarkest = 0.6;  // a fifth of the light
  constexpr double kOff = 3.5;
  if (lab.L > lit.L || lab.L + 16.0 < kDarkest * (lit.L + 16.0)) return false;
  const double part = (lab.L + 16.0) / (lit.L + 16.0);
  const double da = lab.a - part * lit.a;
  const double db = lab.b - part * lit.b;
  return da * da + db * db < kOff * kOff;
}

}  // namespace

Surround::Surround(const SmallPicture& small, const std::array<bool, 4>& sides) : small_(small) {
  int looked = 0;
  const auto look = [&](int x, int y) {
    ++looked;
    const Lab& lab = small.at(x, y);
    for (Colour& colour : colours_) {
      if (apart2(colour.lab, lab) < kRadius * kRadius) {
        ++colour.count;
        return;
      }
    }
    if (colours_.size() < 4 * kMostColours) colours_.push_back({lab, 1});
  };
  constexpr int kDeep = 2;
  for (int d = 0; d < std::min(kDeep, std::min(small.width, small.height)); ++d) {
    for (int y = 0; y < small.height; ++y) {
      if (sides[static_cast<std::size_t>(Side::left)]) look(d, y);
      if (sides[static_cast<std::size_t>(Side::right)]) look(small.width - 1 - d, y);
    }
    for (int x = 0; x < small.width; ++x) {
      if (sides[static_cast<std::size_t>(Side::top)]) look(x, d);
      if (sides[static_cast<std::size_t>(Side::bottom)]) look(x, small.height - 1 - d);
    }
  }
  std::stable_sort(colours_.begin(), colours_.end(),
                   [](const Colour& p, const Colour& q) { return p.count > q.count; });
  const int least = std::max(2, looked / 300);
  int covered = 0;
  std::size_t kept = 0;
  while (kept < colours_.size() && kept < kMostColours && colours_[kept].count >= least)
    covered += colours_[kept++].count;
  colours_.resize(kept);
  plain_ = looked > 0 && covered >= kLeastCovered * looked;
  if (plain_) map_.assign(small.places.size(), Likeness::unknown);
}

Likeness Surround::likeness(const Lab& lab) const noexcept {
  for (const Colour& colour : colours_) {
    if (apart2(colour.lab, lab) < kSurroundReach * kSurroundReach) return Likeness::surround;
  }
  for (const Colour& colour : colours_) {
    if (in_shadow(lab, colour.lab)) return Likeness::shaded;
  }
  return Likeness::other;
}

}  // namespace kithue::extract
