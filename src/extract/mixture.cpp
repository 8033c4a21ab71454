// SPDX-License-Identifier: MIT
#include "extract/mixture.h"

#include <algorithm>
#include <cmath>

namespace kithue::extract {

MixtureChain mixture_chain(const Lab& from, const Lab& to) {
  const Xyz a = xyz_from_lab(from);
  const Xyz b = xyz_from_lab(to);
  MixtureChain out;
  for (std::size_t k = 0; k < out.size(); ++k) {
    const double t = static_cast<double>(k) / static_cast<double>(out.size() - 1);
    out[k] = lab_from_xyz({a.X + t * (b.X - a.X), a.Y + t * (b.Y - a.Y), a.Z + t * (b.Z - a.Z)});
  }
  return out;
}

double lab_distance(const Lab& x, const Lab& y) noexcept {
  return std::sqrt((x.L - y.L) * (x.L - y.L) + (x.a - y.a) * (x.a - y.a) + (x.b - y.b) * (x.b - y.b));
}

double distance_to(const Lab& lab, const MixtureChain& chain) noexcept {
  double best2 = 1e18;
  for (std::size_t k = 0; k + 1 < chain.size(); ++k) {
    const Lab& p = chain[k];
    const Lab d{chain[k + 1].L - p.L, chain[k + 1].a - p.a, chain[k + 1].b - p.b};
    const double length2 = d.L * d.L + d.a * d.a + d.b * d.b;
    const double along = (lab.L - p.L) * d.L + (lab.a - p.a) * d.a + (lab.b - p.b) * d.b;
    const double t = length2 <= 0.0 ? 0.0 : std::clamp(along / length2, 0.0, 1.0);
    const Lab off{lab.L - (p.L + t * d.L), lab.a - (p.a + t * d.a), lab.b - (p.b + t * d.b)};
    best2 = std::min(best2, off.L * off.L + off.a * off.a + off.b * off.b);
  }
  return std::sqrt(best2);
}

bool is_mixture(const Lab& lab, const std::vector<Lab>& colours, double near) {
  for (std::size_t i = 0; i < colours.size(); ++i) {
    for (std::size_t j = i + 1; j < colours.size(); ++j) {
      if (distance_to(lab, mixture_chain(colours[i], colours[j])) < near) return true;
    }
  }
  return false;
}

}  // namespace kithue::extract
