// SPDX-License-Identifier: MIT
#include "extract/doubles.h"

#include <algorithm>
#include <array>
#include <cmath>

#include "colour/difference.h"
#include "extract/mixture.h"
#include "extract/ray.h"

namespace kithue::extract {
namespace {

/// X, Y, Z over the white: where mixtures are straight and noise in the dark is small.
using Mix = std::array<double, 3>;
Mix mix_of(const Lab& lab) {
  const Xyz xyz = xyz_from_lab(lab, {1.0, 1.0, 1.0});
  return {xyz.X, xyz.Y, xyz.Z};
}

/// How far along the way from the ground to the other colour `lab` lies; 0 when it is not on that way.
double part_of_way(const Lab& lab, const Lab& ground, const Lab& other) {
  const Mix g = mix_of(ground);
  const Mix s = mix_of(other);
  const Mix p = mix_of(lab);
  double along = 0.0;
  double length2 = 1e-12;
  for (std::size_t c = 0; c < 3; ++c) {
    along += (p[c] - g[c]) * (s[c] - g[c]);
    length2 += (s[c] - g[c]) * (s[c] - g[c]);
  }
  const double t = along / length2;
  double miss2 = 0.0;
  for (std::size_t c = 0; c < 3; ++c) {
    const double miss = p[c] - g[c] - t * (s[c] - g[c]);
    miss2 += miss * miss;
  }
  const double near = 0.008 + 0.008 * std::sqrt(length2);
  return miss2 < near * near ? t : 0.0;
}

Lab mixed(const Lab& ground, const Lab& other, double part) {
  const Mix g = mix_of(ground);
  const Mix s = mix_of(other);
  const auto at = [&](std::size_t c) { return std::max(0.0, g[c] + part * (s[c] - g[c])); };
  return lab_from_xyz({at(0), at(1), at(2)}, {1.0, 1.0, 1.0});
}

/// As dark as one another, and about of one colour: coding smears into a narrow line what is beside it, so
/// that one ink has another tint between other colours.
bool only_tinted(const Lab& lab, const Lab& other) {
  constexpr double kAsDark = 6.0;  // Lab units
  constexpr double kTint = 14.0;
  return std::abs(lab.L - other.L) < kAsDark && std::hypot(lab.a - other.a, lab.b - other.b) < kTint;
}

}  // namespace

bool same_as_known(const Lab& lab, const std::vector<Lab>& known) {
  return std::any_of(known.begin(), known.end(),
                     [&](const Lab& other) { return ciede2000(other, lab) < 4.0; });
}

bool is_relief(const Lab& lab, std::span<const Lab> grounds, int grain, bool drawn) {
  constexpr double kSurelyDrawn = 4.5;  // dE00
  constexpr double kDrawn = 6.0;
  constexpr double kAsBright = 3.0;  // L*: what coding has faded is no more off than that
  const double roughness = static_cast<double>(grain) / kSteps;
  return std::any_of(grounds.begin(), grounds.end(), [&](const Lab& ground) {
    // Shade takes L* + 16, a* and b* down alike.
    const double part = (lab.L + 16.0) / (ground.L + 16.0);
    const bool shade = std::hypot(lab.a - part * ground.a, lab.b - part * ground.b) < 5.0;
    const double least = drawn && std::abs(lab.L - ground.L) > kAsBright ? kSurelyDrawn : kDrawn;
    return ciede2000(lab, ground) < least + (shade ? 6.0 : 2.5) * roughness;
  });
}

bool is_smeared(const ThinColour& one, const std::vector<Light>& known, std::size_t sure,
                const std::vector<double>& known_cells, const std::vector<ThinColour>& found, bool alone,
                bool broad, const Matrix3& to_xyz) {
  constexpr double kSmall = 0.5;  // of the cells of the larger thing
  const double uncounted = alone ? 1.0 : 6.0;
  constexpr double kNear = 3.0;  // Lab units
  const double kLeastPart = broad ? 0.9 : 0.5;
  constexpr double kMostPart = 1.1;
  // Halved colour differences leave that much of a colour: more of it in what is broader than a sample and a
  // half.
  constexpr double kSamples = 3.0;  // pixels
  const double least_colour = one.width > kSamples ? 0.6 : 0.25;
  const auto on_rim = [&](std::size_t ground, const Light& ink) {
    double miss = Ray::kNever;
    const double part = Ray(known[ground], ink, to_xyz).part_of(one.lab, miss, least_colour);
    return miss < kNear && part > kLeastPart && part < kMostPart;
  };
  std::vector<Lab> labs;
  for (const Light& light : known) labs.push_back(lab_from_light(light, to_xyz));
  // Of two colours of one brightness the coding shows no edge: between them lies all that they mix to.
  const auto no_edge = [&](std::size_t g, std::size_t i) {
    constexpr double kAsBright = 8.0;  // L*
    constexpr double kMostWidth = 6.0;
    return one.width < kMostWidth && std::abs(labs[g].L - labs[i].L) < kAsBright &&
           distance_to(one.lab, mixture_chain(labs[g], labs[i])) < kNear;
  };
  for (std::size_t g = 0; g < known.size(); ++g) {
    for (std::size_t i = 0; i < known.size(); ++i) {
      // Of a colour of small things only the middles are counted.
      const double filled = (i < sure ? 1.0 : uncounted) * known_cells[i];
      if (i != g && one.cells < kSmall * filled && one.cells < kSmall * known_cells[g] &&
          (on_rim(g, known[i]) || no_edge(g, i))) {
        return true;
      }
    }
    for (const ThinColour& other : found) {
      if (one.cells < kSmall * other.cells && one.cells < kSmall * known_cells[g] &&
          on_rim(g, light_from_lab(other.lab, inverse(to_xyz))))
        return true;
    }
  }
  return false;
}

bool same_ray(const ThinColour& one, double sure_width, bool dots, bool detailed,
              const std::vector<Lab>& grounds, const std::vector<ThinColour>& found) {
  // A line this narrow may be any part of the way to a colour that is there in larger things as well.
  constexpr double kUnsureWidth = 3.5;
  constexpr double kUnsurePart = 1.44;  // of the width that is sure
  constexpr double kSureWidth = 5.0;
  constexpr double kTintedPart = 1.25;  // of the width that is sure
  constexpr double kOwn = 4.0;          // dE00: a line that is sure of its colour is that near
  const bool unsure = one.width < std::min(kUnsureWidth, kUnsurePart * sure_width);
  if (unsure && is_mixture(one.lab, grounds, 6.0)) return true;
  return std::any_of(found.begin(), found.end(), [&](const ThinColour& other) {
    if (ciede2000(other.lab, one.lab) < 4.0) return true;
    if (one.ground != other.ground && std::max(one.width, other.width) < kTintedPart * sure_width &&
        only_tinted(one.lab, other.lab)) {
      return true;
    }
    if (one.width > kSureWidth) return false;
    const bool own = detailed && one.width > sure_width && 4 * one.cores >= other.cores;
    const bool rare = (dots ? 4 : 8) * one.cores < other.cores;
    const double least = own ? 0.92 : rare ? 0.2 : 0.4;
    const double most = own ? 1.08 : 1.6;
    return std::any_of(grounds.begin(), grounds.end(), [&](const Lab& ground) {
      const double part = part_of_way(one.lab, ground, other.lab);
      return part > least && part < most &&
             (!own || ciede2000(mixed(ground, other.lab, part), one.lab) < kOwn);
    });
  });
}

bool is_faded(const ThinColour& one, const std::vector<Lab>& known, const std::vector<ThinColour>& found) {
  constexpr double kAsBright = 12.0;  // Lab units, as are the two below
  constexpr double kOutside = 3.0;
  constexpr double kOff = 3.5;
  constexpr double kGood = 0.008;  // root mean square of the misfit, of white
  constexpr double kSmall = 0.5;   // of the other's cells
  const auto between = [&](const Lab& own, const Lab& around) {
    const auto [low, high] = std::minmax(own.L, around.L);
    if (high - low > kAsBright || one.lab.L < low - kOutside || one.lab.L > high + kOutside) return false;
    const double da = around.a - own.a;
    const double db = around.b - own.b;
    const double part = ((one.lab.a - own.a) * da + (one.lab.b - own.b) * db) / (da * da + db * db + 1e-9);
    return part > 0.0 && part < 1.0 &&
           std::hypot(one.lab.a - own.a - part * da, one.lab.b - own.b - part * db) < kOff;
  };
  for (std::size_t g = 0; g < known.size(); ++g) {
    for (std::size_t i = g + 1; i < known.size(); ++i) {
      const bool meet = one.sides[0] == g && one.sides[1] == i;
      if (!meet && between(known[i], known[g])) return true;
    }
    for (const ThinColour& other : found) {
      const bool inside = one.ground == g;
      // What fits no band well is more often faded than drawn.
      const bool doubtful = one.misfit > kGood && one.cells < kSmall * other.cells;
      if ((inside || doubtful) && between(other.lab, known[g])) return true;
    }
  }
  return false;
}

}  // namespace kithue::extract
