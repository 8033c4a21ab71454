// SPDX-License-Identifier: MIT
#include "extract/shares.h"

#include <algorithm>
#include <array>
#include <cmath>

#include "extract/flat.h"
#include "extract/root.h"

namespace kithue::extract {
namespace {

constexpr int kShareReach = 10;  // cells to look for a known colour

/// X, Y, Z over the white.
using Xyz3 = std::array<double, 3>;

Xyz3 xyz_of(const Lab& lab) {
  const Xyz xyz = xyz_from_lab(lab, {1.0, 1.0, 1.0});
  return {xyz.X, xyz.Y, xyz.Z};
}

/// Divides one cell between colours.
class Divider {
 public:
  explicit Divider(const std::vector<Lab>& colours) {
    for (const Lab& lab : colours) xyz_.push_back(xyz_of(lab));
  }
  struct Parts {
    std::size_t first = 0;
    std::size_t second = 0;
    double of_second = 0.0;
    double left_over = 1e9;  ///< Lab units that the mixture misses the cell by
  };
  [[nodiscard]] Parts of_pair(const Lab& lab, const Xyz3& xyz, const Xyz3& weight, std::size_t i,
                              std::size_t j) const {
    double up = 0.0;
    double down = 1e-9;
    for (std::size_t c = 0; c < 3; ++c) {
      // Near to black a step of light weighs more to the eye: weigh by the slope of the cube root.
      const double slope = weight[c];
      const double d = xyz_[j][c] - xyz_[i][c];
      up += slope * (xyz[c] - xyz_[i][c]) * d;
      down += slope * d * d;
    }
    Parts parts{i, j, std::clamp(up / down, 0.0, 1.0), 0.0};
    const double t = parts.of_second;
    std::array<double, 3> root{};
    for (std::size_t c = 0; c < 3; ++c) {
      root[c] = double{root_of(static_cast<float>(xyz_[i][c] + t * (xyz_[j][c] - xyz_[i][c])))};
    }
    const double dL = 116.0 * root[1] - 16.0 - lab.L;
    const double da = 0.5 * (500.0 * (root[0] - root[1]) - lab.a);
    const double db = 0.5 * (200.0 * (root[1] - root[2]) - lab.b);
    parts.left_over = std::sqrt(dL * dL + da * da + db * db);
    return parts;
  }

 private:
  std::vector<Xyz3> xyz_;
};

/// The labels next to a cell, each once.
struct Near {
  std::array<std::uint8_t, 4> label{};
  std::size_t count = 0;
  void add(std::uint8_t one) {
    for (std::size_t i = 0; i < count; ++i) {
      if (label[i] == one) return;
    }
    label[count++] = one;
  }
};

Near near_labels(const Cells& cells, const std::vector<std::uint8_t>& labels, int x, int y) {
  Near near;
  constexpr std::array<std::array<int, 2>, 4> kWays{{{-1, 0}, {1, 0}, {0, -1}, {0, 1}}};
  const int top = cells.run_top(y);
  const int end = cells.run_end(y);
  for (const auto& way : kWays) {
    int px = x;
    int py = y;
    for (int step = 0; step < kShareReach; ++step) {
      px += way[0];
      py += way[1];
      if (px < 0 || py < top || px >= cells.width || py >= end) break;
      const std::uint8_t label = labels[static_cast<std::size_t>(py) * static_cast<std::size_t>(cells.width) +
                                        static_cast<std::size_t>(px)];
      if (label != kNoLabel) {
        near.add(label);
        break;
      }
    }
  }
  return near;
}

}  // namespace

std::vector<double> shares_of(const Cells& cells, const std::vector<std::uint8_t>& labels,
                              const std::vector<Lab>& colours, Executor& executor) {
  constexpr double kWellMixed = 4.0;  // Lab units: neighbours that explain a cell this well are believed
  const Divider divider(colours);
  std::vector<std::vector<double>> parts(bands(cells.height), std::vector<double>(colours.size(), 0.0));
  // Of the cells that are no plain colour, one in `step` is looked at, for all of them, in short runs set
  // askew so that no stripe or check falls in with them.
  const int step = cells.count() > 800'000 ? 8 : cells.count() > 400'000 ? 4 : 1;
  executor.run(parts.size(), [&](std::size_t band) {
    std::vector<double>& sum = parts[band];
    const int first = static_cast<int>(band) * kBand;
    for (int y = first; y < std::min(first + kBand, cells.height); ++y) {
      const std::uint8_t* row =
          labels.data() + static_cast<std::size_t>(y) * static_cast<std::size_t>(cells.width);
      // Two counters take turns, for one would wait for itself in a row of one colour.
      std::array<std::array<std::uint32_t, 256>, 2> plain{};
      for (int x = 0; x < cells.width; ++x) ++plain[static_cast<std::size_t>(x) & 1U][row[x]];
      for (std::size_t i = 0; i < sum.size(); ++i) sum[i] += static_cast<double>(plain[0][i] + plain[1][i]);
      if (plain[0][kNoLabel] + plain[1][kNoLabel] == 0) continue;
      for (int x = 0; x < cells.width; ++x) {
        if (row[x] != kNoLabel) continue;
        if ((((x >> 4) * 5 + y * 3 + (y >> 3)) & (step - 1)) != 0) continue;
        const Lab lab = lab_of(cells.row(y)[x]);
        const Xyz3 xyz = xyz_of(lab);
        Xyz3 weight;
        for (std::size_t c = 0; c < 3; ++c) {
          const double light = std::max(xyz[c], 1e-4);
          const double root = double{root_of(static_cast<float>(light))};
          weight[c] = 1.0 / std::max(0.02, light > 0.01 ? root * light : 0.0);
        }
        const Near near = near_labels(cells, labels, x, y);
        Divider::Parts best;
        for (std::size_t i = 0; i < near.count; ++i) {
          for (std::size_t j = i; j < near.count; ++j) {
            const auto one = divider.of_pair(lab, xyz, weight, near.label[i], near.label[j]);
            if (one.left_over < best.left_over) best = one;
          }
        }
        if (best.left_over > kWellMixed) {
          // Something that is nowhere plain: a thin line on one of the colours near by.
          for (std::size_t t = 0; t < colours.size(); ++t) {
            for (std::size_t i = 0; i < near.count; ++i) {
              const auto one = divider.of_pair(lab, xyz, weight, near.label[i], t);
              if (one.left_over < best.left_over) best = one;
            }
            const auto alone = divider.of_pair(lab, xyz, weight, t, t);
            if (alone.left_over < best.left_over) best = alone;
          }
        }
        sum[best.first] += step * (1.0 - best.of_second);
        sum[best.second] += step * best.of_second;
      }
    }
  });
  std::vector<double> shares(colours.size(), 0.0);
  double all = 0.0;
  for (const auto& part : parts) {
    for (std::size_t i = 0; i < shares.size(); ++i) shares[i] += part[i];
  }
  for (const double share : shares) all += share;
  for (double& share : shares) share /= all;
  return shares;
}

}  // namespace kithue::extract
