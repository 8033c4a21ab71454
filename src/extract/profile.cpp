// SPDX-License-Identifier: MIT
#include "extract/profile.h"

#include <algorithm>
#include <cmath>
#include <cstddef>

#include "colour/srgb.h"

namespace kithue::extract {
namespace {

using Coded = std::array<double, 3>;

/// sRGB coding as a table: light from -0.25 to 1.75.
class CodingTable {
 public:
  CodingTable() {
    for (std::size_t i = 0; i < table_.size(); ++i)
      table_[i] = coded_from_light(kLow + static_cast<double>(i) / kScale);
  }
  [[nodiscard]] double at(double light) const noexcept {
    const double place = (std::clamp(light, kLow, 1.74) - kLow) * kScale;
    const auto index = static_cast<std::size_t>(place);
    return table_[index] + (place - static_cast<double>(index)) * (table_[index + 1] - table_[index]);
  }

 private:
  static constexpr double kLow = -0.25;
  static constexpr double kScale = 8192.0;
  std::array<double, 16386> table_{};
};

double coded(double light) noexcept {
  static const CodingTable table;
  return table.at(light);
}

/// ITU-R BT.601 as JFIF uses it, differences centred on 0.
Coded coded_of(const Light& light) noexcept {
  const double r = coded(light[0]);
  const double g = coded(light[1]);
  const double b = coded(light[2]);
  const double y = 0.299 * r + 0.587 * g + 0.114 * b;
  return {y, (b - y) / 1.772, (r - y) / 1.402};
}

double normal_part(double z) noexcept {
  return 0.5 * std::erfc(-z * 0.70710678118654752);
}

constexpr double kMostReach = 16.0;

/// The cumulative normal distribution as a table.
class NormalTable {
 public:
  NormalTable() {
    for (std::size_t i = 0; i < table_.size(); ++i)
      table_[i] = normal_part((static_cast<double>(i) - kMiddle) / kScale);
  }
  [[nodiscard]] double at(double z) const noexcept {
    const double place = std::clamp(z, -5.5, 5.5) * kScale + kMiddle;
    const auto index = static_cast<std::size_t>(place);
    return table_[index] + (place - static_cast<double>(index)) * (table_[index + 1] - table_[index]);
  }

 private:
  static constexpr double kScale = 256.0;
  static constexpr double kMiddle = 1536.0;
  std::array<double, 3074> table_{};
};

double part_below(double z) noexcept {
  static const NormalTable table;
  return table.at(z);
}

/// The band model of one cut.
class Band {
 public:
  Band(const Cut& cut, const Smear& smear)
      : cut_(cut), sharp_(smear.sharp), trust_chroma_(smear.trust_chroma) {
    if (smear.chroma2 <= 0.0) return;
    double sum = 0.0;
    const double sd = std::sqrt(smear.chroma2);
    const int reach = static_cast<int>(std::ceil(2.6 * sd / kStep));
    for (int i = -reach; i <= reach; ++i) {
      kernel_.push_back(std::exp(-0.5 * i * i * kStep * kStep / smear.chroma2));
      sum += kernel_.back();
    }
    for (double& k : kernel_) k /= sum;
    first_ = static_cast<int>(std::floor(cut.at.front() / kStep)) - reach;
    const int last = static_cast<int>(std::ceil(cut.at.back() / kStep)) + reach + 1;
    grid_.resize(static_cast<std::size_t>(last - first_ + 1));
    soft_.resize(grid_.size());
  }

  [[nodiscard]] double trust_chroma() const { return trust_chroma_; }

  /// Model values at the places of the cut.
  void values(const Light& line, double middle, double width, std::vector<Coded>& out) {
    out.resize(cut_.at.size());
    for (std::size_t k = 0; k < out.size(); ++k) out[k] = sharp_at(cut_.at[k], line, middle, width);
    if (kernel_.empty()) return;
    for (std::size_t i = 0; i < grid_.size(); ++i) {
      grid_[i] = sharp_at((static_cast<int>(i) + first_) * kStep, line, middle, width);
    }
    const std::size_t reach = kernel_.size() / 2;
    for (std::size_t i = reach; i + reach < grid_.size(); ++i) {
      double cb = 0.0;
      double cr = 0.0;
      for (std::size_t d = 0; d < kernel_.size(); ++d) {
        cb += kernel_[d] * grid_[i + d - reach][1];
        cr += kernel_[d] * grid_[i + d - reach][2];
      }
      soft_[i] = {0.0, cb, cr};
    }
    for (std::size_t k = 0; k < out.size(); ++k) {
      const double place = cut_.at[k] / kStep - first_;
      const auto index = static_cast<std::size_t>(place);
      const double part = place - static_cast<double>(index);
      for (std::size_t c = 1; c < 3; ++c)
        out[k][c] = soft_[index][c] + part * (soft_[index + 1][c] - soft_[index][c]);
    }
  }

 private:
  static constexpr double kStep = 0.5;  // pixels between the places of the smeared colour differences
  [[nodiscard]] Coded sharp_at(double s, const Light& line, double middle, double width) const {
    const double in = part_below((s - middle + width / 2) / sharp_);
    const double past = part_below((s - middle - width / 2) / sharp_);
    Light light;
    for (std::size_t c = 0; c < 3; ++c) {
      light[c] = cut_.left[c] * (1.0 - in) + line[c] * (in - past) + cut_.right[c] * past;
    }
    return coded_of(light);
  }

  const Cut& cut_;
  double sharp_;
  double trust_chroma_;
  int first_ = 0;
  std::vector<Coded> grid_;
  std::vector<Coded> soft_;
  std::vector<double> kernel_;
};

/// Solves a small symmetric positive system in place by Cholesky; false when it is not positive.
template <std::size_t N>
bool solve(std::array<std::array<double, N>, N> a, std::array<double, N>& b) {
  for (std::size_t i = 0; i < N; ++i) {
    for (std::size_t j = 0; j <= i; ++j) {
      double sum = a[i][j];
      for (std::size_t k = 0; k < j; ++k) sum -= a[i][k] * a[j][k];
      if (i == j) {
        if (sum <= 0.0) return false;
        a[i][i] = std::sqrt(sum);
      } else {
        a[i][j] = sum / a[j][j];
      }
    }
  }
  for (std::size_t i = 0; i < N; ++i) {
    for (std::size_t k = 0; k < i; ++k) b[i] -= a[i][k] * b[k];
    b[i] /= a[i][i];
  }
  for (std::size_t i = N; i-- > 0;) {
    for (std::size_t k = i + 1; k < N; ++k) b[i] -= a[k][i] * b[k];
    b[i] /= a[i][i];
  }
  return true;
}

using Matrix5 = std::array<std::array<double, 5>, 5>;
using Vector5 = std::array<double, 5>;

/// The normal equations of one cut: colour (3), middle, width.
struct Equations {
  Matrix5 m{};
  Vector5 v{};
  double cost = 0.0;
  double weight = 0.0;
};

Equations equations_of(const Cut& cut, Band& band, const Light& line) {
  std::vector<Coded> base;
  std::array<std::vector<Coded>, 5> moved;
  band.values(line, cut.middle, cut.width, base);
  constexpr double kLightStep = 1e-3;
  constexpr double kPixelStep = 0.02;
  for (std::size_t p = 0; p < 3; ++p) {
    Light other = line;
    other[p] += kLightStep;
    band.values(other, cut.middle, cut.width, moved[p]);
  }
  band.values(line, cut.middle + kPixelStep, cut.width, moved[3]);
  band.values(line, cut.middle, cut.width + kPixelStep, moved[4]);
  Equations out;
  for (std::size_t k = 0; k < base.size(); ++k) {
    for (std::size_t c = 0; c < 3; ++c) {
      const double left = cut.value[k][c] - base[k][c];
      Vector5 slope;
      for (std::size_t p = 0; p < 5; ++p)
        slope[p] = (moved[p][k][c] - base[k][c]) / (p < 3 ? kLightStep : kPixelStep);
      const double w = cut.weight[k] * (c == 0 ? 1.0 : band.trust_chroma());
      for (std::size_t p = 0; p < 5; ++p) {
        for (std::size_t q = 0; q < 5; ++q) out.m[p][q] += w * slope[p] * slope[q];
        out.v[p] += w * slope[p] * left;
      }
      out.cost += w * left * left;
    }
    out.weight += cut.weight[k];
  }
  return out;
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

Light light_of(const Coded& value) {
  const double r = value[0] + 1.402 * value[2];
  const double b = value[0] + 1.772 * value[1];
  const double g = (value[0] - 0.299 * r - 0.114 * b) / 0.587;
  return {std::max(0.0, light_from_coded(r)), std::max(0.0, light_from_coded(g)),
          std::max(0.0, light_from_coded(b))};
}

double median_of(std::vector<double> values) {
  if (values.empty()) return 0.0;
  const auto middle = values.begin() + static_cast<std::ptrdiff_t>(values.size() / 2);
  std::nth_element(values.begin(), middle, values.end());
  return *middle;
}

}  // namespace

Lab lab_from_light(const Light& light, const Matrix3& to_xyz) noexcept {
  const auto xyz = times(to_xyz, light);
  return lab_from_xyz({xyz[0], xyz[1], xyz[2]});
}

Light light_from_lab(const Lab& lab, const Matrix3& from_xyz) noexcept {
  const Xyz xyz = xyz_from_lab(lab);
  return times(from_xyz, {xyz.X, xyz.Y, xyz.Z});
}

Cut cut_at(const LightRows& picture, const LinePlace& place, double before, double after) {
  const double reach = std::max(before, after);
  Cut cut;
  cut.left = place.left;
  cut.right = place.right;
  const int half = static_cast<int>(std::ceil(std::min(reach, kMostReach))) + 2;
  const int x0 = static_cast<int>(std::floor(place.x)) - half;
  const int y0 = static_cast<int>(std::floor(place.y)) - half;
  const int side = 2 * half + 1;
  if (x0 < 0 || y0 < 0 || x0 + side > picture.width() || y0 + side > picture.height()) return cut;
  const auto size = static_cast<std::size_t>(side);
  std::vector<float> row(size * 3);
  std::vector<Coded> window(size * size);
  for (int j = 0; j < side; ++j) {
    picture.read(x0, y0 + j, side, row.data());
    for (std::size_t i = 0; i < size; ++i) {
      Light light;
      for (std::size_t c = 0; c < 3; ++c) light[c] = static_cast<double>(row[i * 3 + c]) / place.gain;
      window[static_cast<std::size_t>(j) * size + i] = coded_of(light);
    }
  }
  // The direction across the line: where brightness and colour change most, near the middle.
  double xx = 0.0;
  double yy = 0.0;
  double xy = 0.0;
  const double cx = place.x - x0;
  const double cy = place.y - y0;
  for (int j = 1; j + 1 < side; ++j) {
    for (int i = 1; i + 1 < side; ++i) {
      const double d2 = (i - cx) * (i - cx) + (j - cy) * (j - cy);
      const double w = std::exp(-0.5 * d2 / 9.0);
      const auto value = [&](int a, int b) -> const Coded& {
        return window[static_cast<std::size_t>(b) * size + static_cast<std::size_t>(a)];
      };
      for (std::size_t c = 0; c < 3; ++c) {
        const double gx = value(i + 1, j)[c] - value(i - 1, j)[c];
        const double gy = value(i, j + 1)[c] - value(i, j - 1)[c];
        xx += w * gx * gx;
        yy += w * gy * gy;
        xy += w * gx * gy;
      }
    }
  }
  double angle = 0.5 * std::atan2(2.0 * xy, xx - yy);
  double nx = std::cos(angle);
  double ny = std::sin(angle);
  const double spread = std::hypot(xx - yy, 2.0 * xy) / std::max(1e-12, xx + yy);
  // `left` must lie on the negative side.
  if ((place.across_x ? nx : ny) < 0.0) {
    nx = -nx;
    ny = -ny;
  }
  if ((place.across_x ? nx : ny) < 0.5) return cut;
  const double along_most = spread > 0.8 ? 3.0 : 1.2;
  constexpr double kBin = 0.5;
  const int bins = static_cast<int>(std::ceil(reach / kBin));
  std::vector<Coded> sums(static_cast<std::size_t>(2 * bins + 1), Coded{});
  std::vector<double> places(sums.size(), 0.0);
  std::vector<double> counts(sums.size(), 0.0);
  for (int j = 0; j < side; ++j) {
    for (int i = 0; i < side; ++i) {
      const double across = (i - cx) * nx + (j - cy) * ny;
      const double along = -(i - cx) * ny + (j - cy) * nx;
      if (std::abs(along) > along_most || across < -before || across > after) continue;
      const auto bin = static_cast<std::size_t>(static_cast<int>(std::lround(across / kBin)) + bins);
      if (bin >= sums.size()) continue;
      const Coded& v = window[static_cast<std::size_t>(j) * size + static_cast<std::size_t>(i)];
      for (std::size_t c = 0; c < 3; ++c) sums[bin][c] += v[c];
      places[bin] += across;
      counts[bin] += 1.0;
    }
  }
  for (std::size_t b = 0; b < sums.size(); ++b) {
    if (counts[b] == 0.0) continue;
    for (double& v : sums[b]) v /= counts[b];
    cut.at.push_back(places[b] / counts[b]);
    cut.value.push_back(sums[b]);
    cut.weight.push_back(counts[b]);
  }
  cut.usable = cut.at.size() > 8;
  return cut;
}

CutColour fit_cut(Cut& cut, const Smear& smear) {
  CutColour out;
  if (!cut.usable) return out;
  Band band(cut, smear);
  // Begin with what stands out most from a straight mix of the two sides.
  std::size_t top = cut.at.size() / 2;
  double most = -1.0;
  const Coded left = coded_of(cut.left);
  const Coded right = coded_of(cut.right);
  for (std::size_t k = 0; k < cut.at.size(); ++k) {
    double from_left = 0.0;
    double from_right = 0.0;
    for (std::size_t c = 0; c < 3; ++c) {
      from_left += (cut.value[k][c] - left[c]) * (cut.value[k][c] - left[c]);
      from_right += (cut.value[k][c] - right[c]) * (cut.value[k][c] - right[c]);
    }
    const double away = std::min(from_left, from_right);
    if (away > most) {
      most = away;
      top = k;
    }
  }
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
    const bool settled = e.cost - next.cost < 1e-4 * e.cost;
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

double worse_by(const CutColour& own, const Light& light) noexcept {
  double sum = 0.0;
  for (std::size_t p = 0; p < 3; ++p) {
    for (std::size_t q = 0; q < 3; ++q) {
      sum += (light[p] - own.light[p]) * own.information[p][q] * (light[q] - own.light[q]);
    }
  }
  return sum;
}

LineColour fit_together(const std::vector<Cut*>& cuts, const Smear& smear, const Light& start) {
  LineColour out;
  out.light = start;
  std::vector<Band> bands;
  bands.reserve(cuts.size());
  for (const Cut* cut : cuts) bands.emplace_back(*cut, smear);
  double damping = 1e-2;
  double last_cost = 1e300;
  constexpr int kRounds = 12;
  for (int round = 0; round < kRounds; ++round) {
    std::vector<Equations> all(cuts.size());
    std::vector<double> misfits;
    for (std::size_t i = 0; i < cuts.size(); ++i) {
      all[i] = equations_of(*cuts[i], bands[i], out.light);
      misfits.push_back(std::sqrt(all[i].cost / std::max(1.0, 3.0 * all[i].weight)));
    }
    out.misfit = median_of(misfits);
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

double edge_sharpness(std::vector<Cut>& cuts) {
  // One edge: a band so wide that its far side is out of sight, of the colour of the right side.
  constexpr double kFar = 60.0;
  constexpr double kLeast = 0.33;
  constexpr double kGrow = 1.09;
  std::vector<double> found;
  for (Cut& cut : cuts) {
    if (!cut.usable) continue;
    std::vector<double> costs;
    double middle = 0.0;
    std::vector<Coded> model;
    std::vector<Coded> moved;
    for (double sharp = kLeast; sharp < 2.8; sharp *= kGrow) {
      Band band(cut, {sharp, 1.0, 0.0});
      // The middle by a few Newton steps on brightness alone.
      double cost = 0.0;
      for (int step = 0; step < 4; ++step) {
        band.values(cut.right, middle + kFar / 2, kFar, model);
        band.values(cut.right, middle + kFar / 2 + 0.05, kFar, moved);
        double up = 0.0;
        double down = 1e-12;
        cost = 0.0;
        for (std::size_t k = 0; k < model.size(); ++k) {
          const double left = cut.value[k][0] - model[k][0];
          const double slope = (moved[k][0] - model[k][0]) / 0.05;
          up += cut.weight[k] * slope * left;
          down += cut.weight[k] * slope * slope;
          cost += cut.weight[k] * left * left;
        }
        middle = std::clamp(middle + std::clamp(up / down, -1.0, 1.0), -5.0, 5.0);
      }
      costs.push_back(cost);
    }
    const auto least = static_cast<std::size_t>(std::min_element(costs.begin(), costs.end()) - costs.begin());
    if (least == 0 || least + 1 == costs.size()) continue;
    // The bottom of the parabola through the best three.
    const double low = costs[least - 1] - costs[least];
    const double high = costs[least + 1] - costs[least];
    const double shift = 0.5 * (low - high) / std::max(1e-15, low + high);
    found.push_back(kLeast * std::pow(kGrow, static_cast<double>(least) + shift));
  }
  return found.size() < 8 ? -1.0 : median_of(found);
}

double line_sharpness(std::vector<Cut> cuts, double chroma2, Executor& executor) {
  std::erase_if(cuts, [](const Cut& cut) { return !cut.usable; });
  if (cuts.empty()) return -1.0;
  constexpr double kChroma = 0.1;  // brightness tells sharpness best
  std::vector<double> costs(cuts.size());
  const auto cost_at = [&](double sharp) {
    executor.run(cuts.size(), [&](std::size_t i) {
      costs[i] = fit_cut(cuts[i], {sharp, kChroma, chroma2}).cost / static_cast<double>(cuts[i].at.size());
    });
    double sum = 0.0;
    for (const double cost : costs) sum += cost;
    return sum;
  };
  // The cleaner half, for in the others something else lies in the window; of these the wider half, for a
  // line narrower than the smear tells little about it.
  constexpr double kFirst = 0.85;
  cost_at(kFirst);
  const auto keep_best = [&](auto better) {
    std::vector<std::size_t> order(cuts.size());
    for (std::size_t i = 0; i < order.size(); ++i) order[i] = i;
    std::stable_sort(order.begin(), order.end(), better);
    order.resize((order.size() + 1) / 2);
    std::vector<Cut> kept;
    std::vector<double> kept_costs;
    for (const std::size_t i : order) {
      kept.push_back(cuts[i]);
      kept_costs.push_back(costs[i]);
    }
    cuts = std::move(kept);
    costs = std::move(kept_costs);
  };
  keep_best([&](std::size_t i, std::size_t j) { return costs[i] < costs[j]; });
  keep_best([&](std::size_t i, std::size_t j) { return cuts[i].width > cuts[j].width; });
  // Golden section over the logarithm.
  constexpr double kGolden = 0.6180339887498949;
  double low = std::log(0.4);
  double high = std::log(2.2);
  double x1 = high - kGolden * (high - low);
  double x2 = low + kGolden * (high - low);
  double f1 = cost_at(std::exp(x1));
  double f2 = cost_at(std::exp(x2));
  for (int step = 0; step < 9; ++step) {
    if (f1 < f2) {
      high = x2;
      x2 = x1;
      f2 = f1;
      x1 = high - kGolden * (high - low);
      f1 = cost_at(std::exp(x1));
    } else {
      low = x1;
      x1 = x2;
      f1 = f2;
      x2 = low + kGolden * (high - low);
      f2 = cost_at(std::exp(x2));
    }
  }
  return std::exp(0.5 * (low + high));
}

}  // namespace kithue::extract
