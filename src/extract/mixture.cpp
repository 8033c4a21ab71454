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

Mixtures::Mixtures(const std::vector<Lab>& colours) : colours_(colours) {
  for (const Lab& x : colours) {
    for (const Lab& y : colours) chains_.push_back(pieces_of(mixture_chain(x, y)));
  }
}

double Mixtures::miss(const Lab& lab, std::size_t i, std::size_t j) const {
  if (i == j) return lab_distance(lab, colours_[i]);
  const Pieces& p = chains_[i * colours_.size() + j];
  const auto L = static_cast<float>(lab.L);
  const auto a = static_cast<float>(lab.a);
  const auto b = static_cast<float>(lab.b);
  std::array<float, kPieces> gap2;  // NOLINT: filled below
  for (std::size_t k = 0; k < kPieces; ++k) {
    const float dL = L - p.L[k];
    const float da = a - p.a[k];
    const float db = b - p.b[k];
    const float along = (dL * p.dL[k] + da * p.da[k] + db * p.db[k]) * p.by_length2[k];
    const float t = std::min(1.0F, std::max(0.0F, along));
    const float off_L = dL - t * p.dL[k];
    const float off_a = da - t * p.da[k];
    const float off_b = db - t * p.db[k];
    gap2[k] = off_L * off_L + off_a * off_a + off_b * off_b;
  }
  return std::sqrt(double{*std::min_element(gap2.begin(), gap2.end())});
}

double Mixtures::least_miss(const Lab& lab) const {
  double least = 1e9;
  for (std::size_t i = 0; i < colours_.size(); ++i) {
    for (std::size_t j = 0; j <= i; ++j) least = std::min(least, miss(lab, i, j));
  }
  return least;
}

bool Mixtures::all_miss(const Lab& lab, double by) const {
  for (std::size_t i = 0; i < colours_.size(); ++i) {
    for (std::size_t j = 0; j <= i; ++j) {
      if (miss(lab, i, j) <= by) return false;
    }
  }
  return true;
}

Mixtures::Pieces Mixtures::pieces_of(const MixtureChain& chain) {
  Pieces out;
  for (std::size_t k = 0; k < kPieces; ++k) {
    const Lab& p = chain[k];
    const Lab d{chain[k + 1].L - p.L, chain[k + 1].a - p.a, chain[k + 1].b - p.b};
    out.L[k] = static_cast<float>(p.L);
    out.a[k] = static_cast<float>(p.a);
    out.b[k] = static_cast<float>(p.b);
    out.dL[k] = static_cast<float>(d.L);
    out.da[k] = static_cast<float>(d.a);
    out.db[k] = static_cast<float>(d.b);
    const double length2 = d.L * d.L + d.a * d.a + d.b * d.b;
    out.by_length2[k] = length2 > 0.0 ? static_cast<float>(1.0 / length2) : 0.0F;
  }
  return out;
}

}  // namespace kithue::extract
