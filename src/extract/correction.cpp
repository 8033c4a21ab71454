// SPDX-License-Identifier: MIT
#include "extract/correction.h"

#include <algorithm>
#include <cmath>
#include <optional>

#include "base/text.h"
#include "colour/difference.h"
#include "colour/words.h"
#include "extract/trust.h"

namespace kithue {
namespace {

using Triple = std::array<double, 3>;

constexpr std::size_t kLeastToTell = 3;
constexpr std::size_t kLeastForMatrix = 6;
constexpr std::size_t kLeastForRoots = 12;

/// The terms of a kind; all of them grow in step with the light, so that exposure does not matter.
std::vector<double> terms_of(const Triple& light, CorrectionKind kind) {
  const double r = std::max(0.0, light[0]);
  const double g = std::max(0.0, light[1]);
  const double b = std::max(0.0, light[2]);
  std::vector<double> terms{r, g, b};
  if (kind == CorrectionKind::root2) {
    terms.insert(terms.end(), {std::sqrt(r * g), std::sqrt(g * b), std::sqrt(r * b)});
  }
  return terms;
}

Lab told(const Triple& light, const Correction& correction) {
  const auto terms = terms_of(light, correction.kind);
  Triple xyz{};
  for (std::size_t t = 0; t < terms.size(); ++t) {
    for (std::size_t c = 0; c < 3; ++c) xyz[c] += terms[t] * correction.rows[t][c];
  }
  return lab_from_xyz({std::max(0.0, xyz[0]), std::max(0.0, xyz[1]), std::max(0.0, xyz[2])});
}

/// Solves m x = v for three right-hand sides by elimination. Nothing when m is singular.
std::optional<std::vector<Triple>> solved(std::vector<std::vector<double>> m, std::vector<Triple> v) {
  const std::size_t n = m.size();
  for (std::size_t i = 0; i < n; ++i) {
    std::size_t pivot = i;
    for (std::size_t k = i + 1; k < n; ++k) {
      if (std::abs(m[k][i]) > std::abs(m[pivot][i])) pivot = k;
    }
    if (std::abs(m[pivot][i]) < 1e-14) return std::nullopt;
    std::swap(m[i], m[pivot]);
    std::swap(v[i], v[pivot]);
    for (std::size_t k = i + 1; k < n; ++k) {
      const double part = m[k][i] / m[i][i];
      for (std::size_t j = i; j < n; ++j) m[k][j] -= part * m[i][j];
      for (std::size_t c = 0; c < 3; ++c) v[k][c] -= part * v[i][c];
    }
  }
  for (std::size_t i = n; i-- > 0;) {
    for (std::size_t c = 0; c < 3; ++c) {
      for (std::size_t j = i + 1; j < n; ++j) v[i][c] -= m[i][j] * v[j][c];
      v[i][c] /= m[i][i];
    }
  }
  return v;
}

/// Where three gains are made: in the camera's own primaries, or in Bradford's, which undoes a real lamp's
/// light better (23 papers under 6 published lights: median 1.3 to 4.0 dE00 after one white card, 1.3 to 7.0
/// in the primaries of sRGB).
enum class Gains { bradford, primaries };

Matrix3 gain_space(Gains how, const Matrix3& to_xyz) {
  if (how == Gains::primaries) return inverse(to_xyz);
  // Lam 1985, as printed in ICC.1:2022, Annex E.
  return {{{{0.8951, 0.2664, -0.1614}, {-0.7502, 1.7135, 0.0367}, {0.0389, -0.0685, 1.0296}}}};
}

/// Three gains: what the known colours would be in this light over what was seen.
Correction gains(const std::vector<KnownPatch>& patches, const Matrix3& to_xyz, Gains how) {
  const Matrix3 space = gain_space(how, to_xyz);
  const Matrix3 seen_to_space = product(space, to_xyz);
  Triple up{};
  Triple down{1e-12, 1e-12, 1e-12};
  for (const KnownPatch& patch : patches) {
    const Xyz xyz = xyz_from_lab(patch.lab);
    const Triple light = times(space, {xyz.X, xyz.Y, xyz.Z});
    const Triple seen = times(seen_to_space, patch.seen);
    for (std::size_t c = 0; c < 3; ++c) {
      up[c] += light[c] * seen[c];
      down[c] += seen[c] * seen[c];
    }
  }
  Matrix3 grown = seen_to_space;
  for (std::size_t c = 0; c < 3; ++c) {
    for (double& one : grown.row[c]) one *= up[c] / down[c];
  }
  const Matrix3 whole = product(inverse(space), grown);
  Correction out;
  for (std::size_t t = 0; t < 3; ++t) out.rows.push_back({whole.row[0][t], whole.row[1][t], whole.row[2][t]});
  return out;
}

/// Least squares in XYZ, dark patches weighted up as the eye does, held a little towards plain gains.
Correction fitted(const std::vector<KnownPatch>& patches, const Matrix3& to_xyz, CorrectionKind kind,
                  Gains how) {
  Correction out = gains(patches, to_xyz, how);
  if (kind == CorrectionKind::level) return out;
  out.kind = kind;
  const std::size_t n = terms_of({1.0, 1.0, 1.0}, kind).size();
  out.rows.resize(n, Triple{});
  std::vector<std::vector<double>> m(n, std::vector<double>(n, 0.0));
  std::vector<Triple> v(n, Triple{});
  constexpr double kHold = 1e-5;
  for (std::size_t i = 0; i < n; ++i) {
    m[i][i] = kHold;
    for (std::size_t c = 0; c < 3; ++c) v[i][c] = kHold * out.rows[i][c];
  }
  for (const KnownPatch& patch : patches) {
    const auto terms = terms_of(patch.seen, kind);
    const Xyz xyz = xyz_from_lab(patch.lab);
    const double weight = 1.0 / std::pow(std::max(0.02, xyz.Y), 4.0 / 3.0);
    for (std::size_t i = 0; i < n; ++i) {
      for (std::size_t j = 0; j < n; ++j) m[i][j] += weight * terms[i] * terms[j];
      v[i][0] += weight * terms[i] * xyz.X;
      v[i][1] += weight * terms[i] * xyz.Y;
      v[i][2] += weight * terms[i] * xyz.Z;
    }
  }
  if (const auto rows = solved(m, v)) out.rows = *rows;
  return out;
}

Correction fitted_and_tried(const std::vector<KnownPatch>& patches, const Matrix3& to_xyz,
                            CorrectionKind kind, Gains how) {
  Correction out = fitted(patches, to_xyz, kind, how);
  out.patches = static_cast<int>(patches.size());
  out.left_out_mean = -1.0;
  out.left_out_max = -1.0;
  if (patches.size() < 2) return out;
  double sum = 0.0;
  for (std::size_t i = 0; i < patches.size(); ++i) {
    std::vector<KnownPatch> others = patches;
    others.erase(others.begin() + static_cast<std::ptrdiff_t>(i));
    const double off = ciede2000(told(patches[i].seen, fitted(others, to_xyz, kind, how)), patches[i].lab);
    sum += off;
    out.left_out_max = std::max(out.left_out_max, off);
  }
  out.left_out_mean = sum / static_cast<double>(patches.size());
  return out;
}

std::string_view words_for(CorrectionKind kind) {
  switch (kind) {
    case CorrectionKind::level:
      return "cast and level";
    case CorrectionKind::matrix:
      return "a root-polynomial of degree 1";
    case CorrectionKind::root2:
      return "a root-polynomial of degree 2";
  }
  return "";
}

}  // namespace

KnownPatch patch_at(const LightRows& picture, int x, int y, int width, int height, std::string name,
                    const Lab& lab) {
  const int edge_x = width / 10;
  const int edge_y = height / 10;
  const int inner = width - 2 * edge_x;
  KnownPatch patch{std::move(name), lab, {}, 0.0};
  std::vector<float> row(static_cast<std::size_t>(inner) * 3);
  double squares = 0.0;
  for (int j = y + edge_y; j < y + height - edge_y; ++j) {
    picture.read(x + edge_x, j, inner, row.data());
    for (std::size_t i = 0; i < row.size(); i += 3) {
      double sum = 0.0;
      for (std::size_t c = 0; c < 3; ++c) {
        patch.seen[c] += static_cast<double>(row[i + c]);
        sum += static_cast<double>(row[i + c]);
      }
      squares += sum * sum;
    }
  }
  const double n = static_cast<double>(inner) * (height - 2 * edge_y);
  for (double& light : patch.seen) light /= n;
  const double mean = patch.seen[0] + patch.seen[1] + patch.seen[2];
  patch.uneven = mean > 0.0 ? std::sqrt(std::max(0.0, squares / n - mean * mean)) / mean : 0.0;
  return patch;
}

Correction fit_correction(const std::vector<KnownPatch>& patches, const Matrix3& to_xyz) {
  Correction best = fitted_and_tried(patches, to_xyz, CorrectionKind::level, Gains::bradford);
  const auto consider = [&](CorrectionKind kind, Gains how) {
    const Correction other = fitted_and_tried(patches, to_xyz, kind, how);
    if (other.left_out_mean < best.left_out_mean) best = other;
  };
  if (patches.size() >= kLeastToTell) consider(CorrectionKind::level, Gains::primaries);
  if (patches.size() >= kLeastForMatrix) consider(CorrectionKind::matrix, Gains::bradford);
  if (patches.size() >= kLeastForRoots) consider(CorrectionKind::root2, Gains::bradford);
  return best;
}

Lab corrected(const Lab& seen, const Correction& correction, const Matrix3& to_xyz) {
  const Xyz xyz = xyz_from_lab(seen);
  return told(times(inverse(to_xyz), {xyz.X, xyz.Y, xyz.Z}), correction);
}

void correct(Palette& palette, const Correction& correction, const Matrix3& to_xyz) {
  for (PaletteColour& colour : palette.colours) {
    colour.lab = corrected(colour.lab, correction, to_xyz);
    colour.lab.L = std::min(colour.lab.L, 100.0);
    colour.words = plain_words(colour.lab);
  }
  std::string reason = "corrected for " + std::string(words_for(correction.kind)) + " by " +
                       counted(static_cast<std::size_t>(correction.patches), "known colour") +
                       " in the frame";
  if (correction.patches < static_cast<int>(kLeastForMatrix))
    reason += ", for a root-polynomial takes " + std::to_string(kLeastForMatrix);
  if (correction.left_out_mean >= 0.0) {
    reason += "; each is foretold by the others to " + fixed_number(correction.left_out_mean, 2) +
              " dE00 on average, " + fixed_number(correction.left_out_max, 2) + " at worst";
  }
  extract::trust_correction(palette.trust, correction.patches, correction.left_out_mean, reason);
}

}  // namespace kithue
