// SPDX-License-Identifier: MIT
#include "advise/vision.h"

#include <algorithm>

#include "advise/legibility.h"
#include "colour/difference.h"
#include "colour/matrix.h"
#include "colour/srgb.h"

namespace kithue {
namespace {

constexpr Matrix3 kProtan{
    {{{0.152286, 1.052583, -0.204868}, {0.114503, 0.786281, 0.099216}, {-0.003882, -0.048116, 1.051998}}}};
constexpr Matrix3 kDeutan{
    {{{0.367322, 0.860646, -0.227968}, {0.280085, 0.672501, 0.047413}, {-0.011820, 0.042940, 0.968881}}}};
constexpr Matrix3 kTritan{
    {{{1.255528, -0.076749, -0.178779}, {-0.078411, 0.930809, 0.147602}, {0.004733, 0.691367, 0.303900}}}};

const Matrix3& matrix_of(Vision vision) noexcept {
  switch (vision) {
    case Vision::protan:
      return kProtan;
    case Vision::deutan:
      return kDeutan;
    case Vision::tritan:
      return kTritan;
  }
  return kProtan;
}

}  // namespace

std::string_view word_for(Vision vision) noexcept {
  switch (vision) {
    case Vision::protan:
      return "protan";
    case Vision::deutan:
      return "deutan";
    case Vision::tritan:
      return "tritan";
  }
  return "";
}

Lab seen_by(const Lab& lab, Vision vision) noexcept {
  const LinearRgb rgb = rgb_from_lab(lab);
  const auto seen = times(matrix_of(vision), {rgb.r, rgb.g, rgb.b});
  return lab_from_rgb({seen[0], seen[1], seen[2]});
}

std::vector<Merger> mergers(const std::vector<NamedColour>& colours) {
  std::vector<Merger> found;
  std::vector<std::array<Lab, 3>> seen;
  seen.reserve(colours.size());
  for (const NamedColour& colour : colours) {
    seen.push_back({seen_by(colour.lab, kVisions[0]), seen_by(colour.lab, kVisions[1]),
                    seen_by(colour.lab, kVisions[2])});
  }
  for (std::size_t i = 0; i < colours.size(); ++i) {
    for (std::size_t k = i + 1; k < colours.size(); ++k) {
      const double usual = ciede2000(colours[i].lab, colours[k].lab);
      if (usual <= kPartsForMost) continue;
      for (std::size_t v = 0; v < kVisions.size(); ++v) {
        const double simulated = ciede2000(seen[i][v], seen[k][v]);
        if (simulated < kMergesForSome) found.push_back({i, k, kVisions[v], usual, simulated});
      }
    }
  }
  std::stable_sort(found.begin(), found.end(),
                   [](const Merger& x, const Merger& y) { return x.de00_simulated < y.de00_simulated; });
  return found;
}

std::array<double, 3> contrasts_seen(const Lab& x, const Lab& y) noexcept {
  std::array<double, 3> contrasts{};
  for (std::size_t v = 0; v < kVisions.size(); ++v) {
    contrasts[v] = contrast_ratio(seen_by(x, kVisions[v]), seen_by(y, kVisions[v]));
  }
  return contrasts;
}

}  // namespace kithue
