// SPDX-License-Identifier: MIT
#include "extract/line_fit.h"

#include <algorithm>
#include <cmath>
#include <cstddef>

#include "extract/solve.h"

namespace kithue::extract {
namespace {

using Matrix5 = std::array<std::array<double, 5>, 5>;
using Vector5 = std::array<double, 5>;

/// The normal equations of one cut: colour (3), middle, width.
using Equations = NormalEquations<5>;

Equations equations_of(const Cut& cut, Band& band, const Light& line) {
  return band.line_equations(line, cut.middle, cut.width);
}

double better_part(const std::vector<Equations>& all) {
  std::vector<double> costs;
  for (const Equations& e : all) costs.push_back(e.cost);
  std::sort(costs.begin(), costs.end());
  double sum = 0.0;
  for (std::size_t i = 0; i < 3 * costs.size() / 4; ++i) sum += costs[i];
  return sum;
}

/// Removes middle and width from the equations of a cut (Schur complement), which leaves the colour.
struct Reduced {
  std::array<std::array<double, 3>, 3> m{};
  std::array<double, 3> v{};
};

bool reduce(const Equations& e, Reduced& out) {
  const double p = e.m[3][3] * 1.001 + 1e-9;
  const double q = e.m[4][4] * 1.001 + 1e-9;
  const double r = e.m[3][4];
  const double det = p * q - r * r;
  if (det <= 1e-18) return false;
  for (std::size_t i = 0; i < 3; ++i) {
    const double x = (q * e.m[i][3] - r * e.m[i][4]) / det;
    const double y = (p * e.m[i][4] - r * e.m[i][3]) / det;
    for (std::size_t j = 0; j < 3; ++j) out.m[i][j] = e.m[i][j] - x * e.m[3][j] - y * e.m[4][j];
    out.v[i] = e.v[i] - x * e.v[3] - y * e.v[4];
  }
  return true;
}

/// Moves middle and width of a cut along with a step of the colour.
void follow(Cut& cut, const Equations& e, const std::array<double, 3>& step, double damping) {
  double v3 = e.v[3];
  double v4 = e.v[4];
  for (std::size_t p = 0; p < 3; ++p) {
    v3 -= e.m[3][p] * step[p];
    v4 -= e.m[4][p] * step[p];
  }
  const double p = e.m[3][3] * (1.0 + damping) + 1e-9;
  const double q = e.m[4][4] * (1.0 + damping) + 1e-9;
  const double r = e.m[3][4];
  const double det = p * q - r * r;
  if (det <= 1e-18) return;
  cut.middle =
      std::clamp(cut.middle + std::clamp((q * v3 - r * v4) / det, -0.5, 0.5), cut.at.front(), cut.at.back());
  cut.width = std::clamp(cut.width + std::clamp((p * v4 - r * v3) / det, -0.7, 0.7), 0.6, 24.0);
}

/// The place that stands out most: from both sides, or from the straight way between them.
std::size_t most_apart(const Cut& cut, bool from_way) {
  const Coded left = coded_of(cut.left);
  const Coded right = coded_of(cut.right);
  std::size_t top = cut.at.size() / 2;
  double most = -1.0;
  for (std::size_t k = 0; k < cut.at.size(); ++k) {
    double from_left = 0.0;
    double from_right = 0.0;
    double along = 0.0;
    double length2 = 1e-12;
    for (std::size_t c = 0; c < 3; ++c) {
      from_left += (cut.value[k][c] - left[c]) * (cut.value[k][c] - left[c]);
      from_right += (cut.value[k][c] - right[c]) * (cut.value[k][c] - right[c]);
      along += (cut.value[k][c] - left[c]) * (right[c] - left[c]);
      length2 += (right[c] - left[c]) * (right[c] - left[c]);
    }
    const double t = std::clamp(along / length2, 0.0, 1.0);
    double from_both = 0.0;
    for (std::size_t c = 0; c < 3; ++c) {
      const double off = cut.value[k][c] - left[c] - t * (right[c] - left[c]);
      from_both += off * off;
    }
    const double away = from_way ? from_both : std::min(from_left, from_right);
    if (away > most) {
      most = away;
      top = k;
    }
  }
  return top;
}

/// Fits from one of the cut's places as the middle.
CutColour fit_from(Cut& cut, Band& band, std::size_t top) {
  CutColour out;
  out.light = light_of(cut.value[top]);
  cut.middle = cut.at[top];
  constexpr double kSeen = 6e-4;
  const Light seen = out.light;
  const auto away = [&](const Light& light) {
    double sum = 0.0;
    for (std::size_t p = 0; p < 3; ++p) sum += kSeen * (light[p] - seen[p]) * (light[p] - seen[p]);
    return sum;
  };
  double damping = 0.01;
  Equations e = equations_of(cut, band, out.light);
  for (int round = 0; round < 14; ++round) {
    Vector5 step = e.v;
    Matrix5 m = e.m;
    for (std::size_t p = 0; p < 5; ++p) m[p][p] += damping * m[p][p] + 1e-6;
    // A line much narrower than the smear does not tell how strong it is: stay near what was seen.
    for (std::size_t p = 0; p < 3; ++p) {
      m[p][p] += kSeen;
      step[p] += kSeen * (seen[p] - out.light[p]);
    }
    if (!solve<5>(m, step)) break;
    const Light old_light = out.light;
    const double old_middle = cut.middle;
    const double old_width = cut.width;
    for (std::size_t p = 0; p < 3; ++p) {
      out.light[p] = std::clamp(out.light[p] + std::clamp(step[p], -0.15, 0.15), 0.0, 1.3);
    }
    cut.middle = std::clamp(cut.middle + std::clamp(step[3], -0.7, 0.7), cut.at.front(), cut.at.back());
    cut.width = std::clamp(cut.width + std::clamp(step[4], -0.8, 0.8), 0.7, 24.0);
    Equations next = equations_of(cut, band, out.light);
    if (next.cost + away(out.light) > e.cost + away(old_light)) {
      out.light = old_light;
      cut.middle = old_middle;
      cut.width = old_width;
      damping = damping * 6.0 + 1e-3;
      if (damping > 1e3) break;
      continue;
    }
    const bool settled = e.cost - next.cost < 1e-3 * e.cost;
    e = next;
    damping *= 0.3;
    if (settled) break;
  }
  Reduced reduced;
  if (!reduce(e, reduced)) return out;
  out.information = reduced.m;
  out.cost = e.cost;
  out.weight = 3.0 * e.weight;
  out.found = true;
  return out;
}

}  // namespace

double median_of(std::vector<double> values) {
  if (values.empty()) return 0.0;
  const auto middle = values.begin() + static_cast<std::ptrdiff_t>(values.size() / 2);
  std::nth_element(values.begin(), middle, values.end());
  return *middle;
}

CutColour fit_cut(Cut& cut, const Smear& smear) {
  constexpr double kBad = 0.01;  // root mean square of the misfit, of white
  if (!cut.usable) return {};
  Band band(cut, smear);
  const double width = cut.width;
  const std::size_t first = most_apart(cut, false);
  CutColour out = fit_from(cut, band, first);
  if (out.found && out.cost < kBad * kBad * out.weight) return out;
  // Beside an edge of much contrast the edge itself is what stands out from both sides.
  const std::size_t second = most_apart(cut, true);
  if (second == first) return out;
  Cut again = cut;
  again.width = width;
  const CutColour other = fit_from(again, band, second);
  if (!other.found || (out.found && other.cost >= out.cost)) return out;
  cut = std::move(again);
  return other;
}

Worsening::Worsening(const CutColour& own, const Light& loose, double variance) noexcept : own_(own.light) {
  double free = 1.0;
  for (std::size_t p = 0; p < 3; ++p) {
    for (std::size_t q = 0; q < 3; ++q) {
      m_[p][q] = own.information[p][q] / variance;
      along_[q] += loose[p] * m_[p][q];
      free += loose[p] * m_[p][q] * loose[q];
    }
  }
  by_free_ = 1.0 / free;
}

double cost_with(const std::vector<const Cut*>& cuts, const Smear& smear, const Light& light) {
  constexpr int kRounds = 8;
  constexpr double kDamping = 0.05;
  std::vector<Equations> all;
  for (const Cut* one : cuts) {
    Cut cut = *one;
    Band band(cut, smear);
    Equations best = equations_of(cut, band, light);
    for (int round = 0; round < kRounds; ++round) {
      follow(cut, best, {}, kDamping);
      const Equations next = equations_of(cut, band, light);
      const bool better = next.cost < best.cost;
      const bool settled = next.cost > 0.999 * best.cost;
      if (better) best = next;
      if (settled) break;
    }
    all.push_back(best);
  }
  return better_part(all);
}

LineColour fit_together(const std::vector<Cut*>& cuts, const Smear& smear, const Light& start,
                        Executor& executor) {
  LineColour out;
  out.light = start;
  std::vector<Band> bands;
  bands.reserve(cuts.size());
  for (const Cut* cut : cuts) bands.emplace_back(*cut, smear);
  double damping = 1e-2;
  double last_cost = 1e300;
  constexpr int kRounds = 12;
  constexpr std::size_t kTogether = 8;  // cuts a job
  std::vector<Equations> all(cuts.size());
  std::vector<double> misfits(cuts.size());
  for (int round = 0; round < kRounds; ++round) {
    executor.run((cuts.size() + kTogether - 1) / kTogether, [&](std::size_t job) {
      for (std::size_t i = job * kTogether; i < std::min(cuts.size(), (job + 1) * kTogether); ++i) {
        all[i] = equations_of(*cuts[i], bands[i], out.light);
        misfits[i] = std::sqrt(all[i].cost / std::max(1.0, 3.0 * all[i].weight));
      }
    });
    out.misfit = median_of(misfits);
    out.cost = better_part(all);
    Reduced sum;
    double cost = 0.0;
    for (std::size_t i = 0; i < cuts.size(); ++i) {
      if (round >= 3 && misfits[i] > 2.0 * out.misfit + 1e-4) continue;
      Reduced one;
      if (!reduce(all[i], one)) continue;
      for (std::size_t p = 0; p < 3; ++p) {
        for (std::size_t q = 0; q < 3; ++q) sum.m[p][q] += one.m[p][q];
        sum.v[p] += one.v[p];
      }
      cost += all[i].cost;
    }
    std::array<double, 3> step = sum.v;
    auto m = sum.m;
    const double trace = m[0][0] + m[1][1] + m[2][2];
    for (std::size_t p = 0; p < 3; ++p) m[p][p] += damping * m[p][p] + 1e-9 * trace + 1e-12;
    if (!solve<3>(m, step)) break;
    double largest = 0.0;
    for (std::size_t p = 0; p < 3; ++p) {
      const double moved = std::clamp(out.light[p] + std::clamp(step[p], -0.15, 0.15), 0.0, 1.3);
      step[p] = moved - out.light[p];
      largest = std::max(largest, std::abs(step[p]));
      out.light[p] = moved;
    }
    for (std::size_t i = 0; i < cuts.size(); ++i) follow(*cuts[i], all[i], step, damping);
    damping = cost <= last_cost ? damping * 0.4 : std::min(1.0, damping * 4.0);
    last_cost = cost;
    if (round > 4 && largest < 2e-4) break;
  }
  std::vector<double> widths;
  for (const Cut* cut : cuts) widths.push_back(cut->width);
  out.width = median_of(widths);
  return out;
}

}  // namespace kithue::extract
