// SPDX-License-Identifier: MIT
#include "extract/evenness.h"

#include <algorithm>
#include <cmath>
#include <vector>

namespace kithue::extract {
namespace {

constexpr std::size_t kTerms = 5;
using Terms = std::array<double, kTerms>;

Terms terms_at(double x, double y) noexcept {
  const double u = 2.0 * x - 1.0;
  const double v = 2.0 * y - 1.0;
  return {u, v, u * u - 1.0 / 3.0, v * v - 1.0 / 3.0, u * v};
}

double log_light(const std::array<double, kTerms>& slope, double x, double y) noexcept {
  const Terms terms = terms_at(x, y);
  double sum = 0.0;
  for (std::size_t i = 0; i < kTerms; ++i) sum += slope[i] * terms[i];
  return sum;
}

/// One colour in one tile of the picture.
struct Patch {
  double L = 0.0;  ///< L* + 16, proportional to the cube root of light
  double a = 0.0;
  double b = 0.0;
  double x = 0.0;  ///< where its cells lie, on average
  double y = 0.0;
  double count = 0.0;
};

struct Tiles {
  int columns = 0;
  int rows = 0;
  std::vector<std::vector<Patch>> patches;
};

/// Gathers cells into patches: each cell joins the first patch near enough, or starts one.
class Gatherer {
 public:
  void add(const Lab& lab, double x, double y) {
    constexpr double kNear = 2.2;
    const double L = lab.L + 16.0;
    for (Patch& p : patches_) {
      const double dL = p.L / p.count - L;
      const double da = 0.6 * (p.a / p.count - lab.a);
      const double db = 0.6 * (p.b / p.count - lab.b);
      if (dL * dL + da * da + db * db > kNear * kNear) continue;
      p = {p.L + L, p.a + lab.a, p.b + lab.b, p.x + x, p.y + y, p.count + 1.0};
      return;
    }
    if (patches_.size() < 24) patches_.push_back({L, lab.a, lab.b, x, y, 1.0});
  }
  std::vector<Patch> means(double least) const {
    std::vector<Patch> out;
    for (const Patch& p : patches_) {
      if (p.count < least) continue;
      out.push_back({p.L / p.count, p.a / p.count, p.b / p.count, p.x / p.count, p.y / p.count, p.count});
    }
    return out;
  }

 private:
  std::vector<Patch> patches_;
};

Tiles tiles_of(const Cells& cells, const FlatTest& flat, Executor& executor) {
  constexpr int kAcross = 14;
  constexpr int kLeastSide = 12;
  constexpr int kLooks = 24;  // a side, in each tile
  Tiles tiles;
  tiles.columns = std::clamp(cells.width / kLeastSide, 1, kAcross);
  tiles.rows = std::clamp(cells.height / kLeastSide, 1, kAcross);
  tiles.patches.resize(static_cast<std::size_t>(tiles.columns) * static_cast<std::size_t>(tiles.rows));
  executor.run(tiles.patches.size(), [&](std::size_t index) {
    const int column = static_cast<int>(index) % tiles.columns;
    const int row = static_cast<int>(index) / tiles.columns;
    const int left = cells.width * column / tiles.columns;
    const int right = cells.width * (column + 1) / tiles.columns;
    const int top = cells.height * row / tiles.rows;
    const int bottom = cells.height * (row + 1) / tiles.rows;
    const int step_x = std::max(1, (right - left) / kLooks);
    const int step_y = std::max(1, (bottom - top) / kLooks);
    Gatherer gatherer;
    for (int y = top; y < bottom; y += step_y) {
      for (int x = left; x < right; x += step_x) {
        if (flat.at(x, y)) {
          gatherer.add(lab_of(cells.row(y)[x]), (x + 0.5) / cells.width, cells.down(y));
        }
      }
    }
    tiles.patches[index] = gatherer.means(6.0);
  });
  return tiles;
}

/// The same colour in two neighbouring tiles.
struct Link {
  Terms terms{};      ///< difference of the surface's terms
  double step = 0.0;  ///< difference of the logarithm of light
  double red = 0.0;   ///< difference of the logarithm of X / Y
  double blue = 0.0;  ///< difference of the logarithm of Z / Y
  double weight = 0.0;
};

/// Logarithms of X / Y and Z / Y, for colours light enough that CIELAB's f is a cube root.
double x_over_y(const Patch& p) {
  return 3.0 * std::log(std::max(0.1, 1.0 + 116.0 / 500.0 * p.a / p.L));
}
double z_over_y(const Patch& p) {
  return 3.0 * std::log(std::max(0.1, 1.0 - 116.0 / 200.0 * p.b / p.L));
}

void link(const std::vector<Patch>& here, const std::vector<Patch>& there, std::vector<Link>& links) {
  for (const Patch& p : here) {
    const Patch* best = nullptr;
    double nearest = 2.5;
    double second = 1e9;
    for (const Patch& q : there) {
      // Under more or less light L* + 16, a* and b* all grow alike, so that their ratios stay.
      const double grown = q.L / p.L;
      const double da = 0.6 * (q.a - p.a * grown);
      const double db = 0.6 * (q.b - p.b * grown);
      const double d = std::sqrt(0.6 * (q.L - p.L) * (q.L - p.L) + da * da + db * db);
      if (d < nearest) {
        second = nearest;
        nearest = d;
        best = &q;
      } else {
        second = std::min(second, d);
      }
    }
    if (best == nullptr || second < nearest + 0.8) continue;
    Link one;
    const Terms a = terms_at(p.x, p.y);
    const Terms b = terms_at(best->x, best->y);
    for (std::size_t i = 0; i < kTerms; ++i) one.terms[i] = b[i] - a[i];
    one.step = 3.0 * std::log(best->L / p.L);
    one.red = x_over_y(*best) - x_over_y(p);
    one.blue = z_over_y(*best) - z_over_y(p);
    // Dark colours tell little: their L* follows noise and stray light.
    one.weight = std::sqrt(std::min(p.count, best->count)) * p.L * p.L * 1e-4;
    links.push_back(one);
  }
}

bool solve_terms(std::array<Terms, kTerms> m, Terms& v) {
  for (std::size_t i = 0; i < kTerms; ++i) {
    std::size_t pivot = i;
    for (std::size_t k = i + 1; k < kTerms; ++k) {
      if (std::abs(m[k][i]) > std::abs(m[pivot][i])) pivot = k;
    }
    if (std::abs(m[pivot][i]) < 1e-12) return false;
    std::swap(m[i], m[pivot]);
    std::swap(v[i], v[pivot]);
    for (std::size_t k = i + 1; k < kTerms; ++k) {
      const double part = m[k][i] / m[i][i];
      for (std::size_t j = i; j < kTerms; ++j) m[k][j] -= part * m[i][j];
      v[k] -= part * v[i];
    }
  }
  for (std::size_t i = kTerms; i-- > 0;) {
    for (std::size_t j = i + 1; j < kTerms; ++j) v[i] -= m[i][j] * v[j];
    v[i] /= m[i][i];
  }
  return true;
}

/// Least squares over one of the steps, ten times with far-off links counting less. False when the surface
/// explains no more than chance would.
bool fit(const std::vector<Link>& links, double Link::*step, Terms& slope) {
  constexpr double kUsual = 0.006;  // step that noise alone makes, in the logarithm
  slope = {};
  for (int round = 0; round < 10; ++round) {
    std::array<Terms, kTerms> m{};
    Terms v{};
    for (const Link& one : links) {
      double off = one.*step;
      for (std::size_t i = 0; i < kTerms; ++i) off -= slope[i] * one.terms[i];
      const double w = one.weight / (1.0 + off * off / (kUsual * kUsual));
      for (std::size_t i = 0; i < kTerms; ++i) {
        for (std::size_t j = 0; j < kTerms; ++j) m[i][j] += w * one.terms[i] * one.terms[j];
        v[i] += w * one.terms[i] * one.*step;
      }
    }
    for (std::size_t i = 0; i < kTerms; ++i) m[i][i] += 1e-3;
    if (!solve_terms(m, v)) return false;
    slope = v;
  }
  constexpr double kSurely = 12.0;  // ratio of variances
  double explained = 0.0;
  double left = 1e-12;
  for (const Link& one : links) {
    double told = 0.0;
    for (std::size_t i = 0; i < kTerms; ++i) told += slope[i] * one.terms[i];
    const double off = one.*step - told;
    const double w = one.weight / (1.0 + off * off / (9.0 * kUsual * kUsual));
    explained += w * told * told;
    left += w * off * off;
  }
  const double freedom = static_cast<double>(links.size()) - static_cast<double>(kTerms);
  return (explained / static_cast<double>(kTerms)) / (left / freedom) > kSurely;
}

void finish(Evenness& out) {
  constexpr int kPlaces = 20;
  double sum = 0.0;
  double low = 1e9;
  double high = 0.0;
  for (int j = 0; j < kPlaces; ++j) {
    for (int i = 0; i < kPlaces; ++i) {
      const double light = std::exp(log_light(out.slope, (i + 0.5) / kPlaces, (j + 0.5) / kPlaces));
      sum += light;
      low = std::min(low, light);
      high = std::max(high, light);
    }
  }
  out.level = -std::log(sum / (kPlaces * kPlaces));
  out.spread = 0.5 * (high - low) * std::exp(out.level);
}

/// How far the light's colour drifts over the frame, on a grey of L* 75.
double tint_of(const std::vector<Link>& links) {
  Terms red{};
  Terms blue{};
  if (!fit(links, &Link::red, red)) red = {};
  if (!fit(links, &Link::blue, blue)) blue = {};
  constexpr int kPlaces = 10;
  constexpr double kGrey = (75.0 + 16.0) / 116.0;
  double most = 0.0;
  for (int j = 0; j < kPlaces; ++j) {
    for (int i = 0; i < kPlaces; ++i) {
      const double x = (i + 0.5) / kPlaces;
      const double y = (j + 0.5) / kPlaces;
      const double a = 500.0 * kGrey * (std::exp(log_light(red, x, y) / 3.0) - 1.0);
      const double b = 200.0 * kGrey * (1.0 - std::exp(log_light(blue, x, y) / 3.0));
      most = std::max(most, std::hypot(a, b));
    }
  }
  return most;
}

}  // namespace

double Evenness::at(double x, double y) const noexcept {
  return std::exp(level + log_light(slope, x, y));
}

Evenness evenness_of(const Cells& cells, const FlatTest& flat, Executor& executor) {
  constexpr std::size_t kLeastLinks = 24;
  constexpr double kMostSpread = 0.35;
  Evenness out;
  const Tiles tiles = tiles_of(cells, flat, executor);
  std::vector<Link> links;
  const auto at = [&](int column, int row) -> const std::vector<Patch>& {
    return tiles.patches[static_cast<std::size_t>(row * tiles.columns + column)];
  };
  for (int row = 0; row < tiles.rows; ++row) {
    for (int column = 0; column < tiles.columns; ++column) {
      if (column + 1 < tiles.columns) link(at(column, row), at(column + 1, row), links);
      if (row + 1 < tiles.rows) link(at(column, row), at(column, row + 1), links);
    }
  }
  if (links.size() < kLeastLinks) return out;
  out.tint = tint_of(links);
  if (!fit(links, &Link::step, out.slope)) {
    out.slope = {};
    return out;
  }
  finish(out);
  out.supported = out.spread <= kMostSpread;
  if (!out.supported) {
    out.slope = {};
    out.level = 0.0;
  }
  return out;
}

void even_out(Cells& cells, const Evenness& evenness, Executor& executor) {
  if (!evenness.supported) return;
  executor.run(bands(cells.height), [&](std::size_t band) {
    const int first = static_cast<int>(band) * kBand;
    constexpr std::size_t kRun = 32;  // the light hardly changes over so few cells
    std::vector<float> grow((static_cast<std::size_t>(cells.width) + kRun - 1) / kRun);
    for (int y = first; y < std::min(first + kBand, cells.height); ++y) {
      for (std::size_t i = 0; i < grow.size(); ++i) {
        const double middle = (static_cast<double>(i * kRun) + 0.5 * kRun) / cells.width;
        const double log = evenness.level + log_light(evenness.slope, middle, cells.down(y));
        grow[i] = static_cast<float>(std::exp(-log / 3.0));
      }
      const std::size_t start = cells.at(0, y);
      row_work().grow(grow.data(), static_cast<std::size_t>(cells.width), cells.L + start, cells.a + start,
                      cells.b + start);
    }
  });
}

}  // namespace kithue::extract
